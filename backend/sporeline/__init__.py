"""sporeline: the line from spore to plant."""

__version__ = "0.1.0"
