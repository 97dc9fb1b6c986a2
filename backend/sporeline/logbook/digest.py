"""Which entries and photos a logbook lacks: how a phone heals a restored server."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, select

from sporeline.logbook.heads import among, head_row
from sporeline.logbook.tables import entry

MOST_IDS = 2000
MOST_PHOTOS = 200


@dataclass(frozen=True)
class Digest:
    """`epoch`: empty when nothing was ever written here."""

    epoch: str
    lacks: list[str]
    lacks_photos: list[str]


def digest(
    c: Connection,
    logbook: str,
    ids: Sequence[str],
    photos: Sequence[str],
    has_photo: Callable[[str], bool],
) -> Digest:
    """What of these the logbook does not have, in the order asked. Each logbook answers for itself."""
    head = head_row(c, logbook)
    known: set[str] = set()
    if head is not None:
        query = select(entry.c.id).where(entry.c.key == head.key, among(c, entry.c.id, ids))
        known.update(c.scalars(query))
    return Digest(
        epoch="" if head is None else head.epoch,
        lacks=[id for id in ids if id not in known],
        lacks_photos=[sha256 for sha256 in photos if not has_photo(sha256)],
    )
