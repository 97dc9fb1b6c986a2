"""Photos: content-addressed bytes in a folder."""

from sporeline.photos.store import LARGEST, Offset, PhotoStore, WrongHash, WrongOffset

__all__ = ["LARGEST", "Offset", "PhotoStore", "WrongHash", "WrongOffset"]
