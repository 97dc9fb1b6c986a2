"""What keeps the records safe over years."""
