"""The truth: entries taken up, numbered, held, given out; and the records folded from them.

Functions take a Core `Connection` in a transaction of the caller's, and the id of a logbook.
"""

from sporeline.logbook.digest import MOST_IDS, MOST_PHOTOS, Digest
from sporeline.logbook.epoch import renew_epoch
from sporeline.logbook.exchange import MOST_ENTRIES, Asked, Logbooks
from sporeline.logbook.heads import Place, head_of, lock_head
from sporeline.logbook.numbers import Left
from sporeline.logbook.outlooks import put_outlooks, read_outlooks
from sporeline.logbook.pages import MOST_LINES
from sporeline.logbook.records import (
    StoredRecord,
    changed_since,
    read_entries,
    read_records,
    rebuild,
    type_of_photo,
)

__all__ = [
    "MOST_ENTRIES",
    "MOST_IDS",
    "MOST_LINES",
    "MOST_PHOTOS",
    "Asked",
    "Digest",
    "Left",
    "Logbooks",
    "Place",
    "StoredRecord",
    "changed_since",
    "head_of",
    "lock_head",
    "put_outlooks",
    "read_entries",
    "read_outlooks",
    "read_records",
    "rebuild",
    "renew_epoch",
    "type_of_photo",
]
