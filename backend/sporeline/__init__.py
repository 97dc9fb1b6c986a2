"""sporeline: the line from spore to plant."""
