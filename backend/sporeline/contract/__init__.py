"""What travels: kinds of entries, care plans, tables of ferns, texts and error codes."""
