"""Entries that were read lately, so that a phone with a backlog does not have each record read and
parsed anew with every batch.

What is kept is good for exactly one state of a logbook: the epoch and number at which it was kept.
Whoever else writes, another process too, raises the number, and what is kept here is thrown away.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sporeline.logbook.heads import Head

Entry = dict[str, Any]
Filed = dict[str, list[Entry]]
"""Record to all its entries, with `state` and `received` beside them."""

MOST = 10_000
"""Entries kept in all, about 1.5 kB each; one that concerns several records counts for each."""


@dataclass
class _Book:
    epoch: str
    seq: int
    filed: Filed


class Recent:
    """The records of a few logbooks that were written to last."""

    def __init__(self, most: int = MOST) -> None:
        self._most = most
        self._books: dict[int, _Book] = {}

    def take(self, locked: Head) -> Filed:
        """What is kept of a logbook, if it still stands where it stood then. It is given away: a
        transaction that fails leaves nothing behind."""
        book = self._books.pop(locked.key, None)
        if book is None or (book.epoch, book.seq) != (locked.epoch, locked.seq):
            return {}
        return book.filed

    def keep(self, locked: Head, seq: int, filed: Filed) -> None:
        """After the commit that brought the logbook to `seq`. Longest unused goes first."""
        self._books.pop(locked.key, None)
        self._books[locked.key] = _Book(locked.epoch, seq, filed)
        over = sum(_size(book.filed) for book in list(self._books.values())) - self._most
        for key, book in list(self._books.items()):
            while over > 0 and book.filed:
                over -= len(book.filed.pop(next(iter(book.filed))))
            if not book.filed:
                self._books.pop(key, None)


def _size(filed: Filed) -> int:
    return sum(map(len, filed.values()))
