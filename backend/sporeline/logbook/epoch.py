"""The epoch: which history these numbers belong to."""

from __future__ import annotations

from sqlalchemy import Connection

from sporeline.logbook.heads import lock_head
from sporeline.logbook.numbers import leave_gap
from sporeline.logbook.tables import head


def renew_epoch(c: Connection, logbook: str, new_epoch: str) -> None:
    """Begin a new epoch, after this database was brought back from an older copy.

    Phones then meet 409 at their next exchange, ask a digest, and offer what is lacking.
    """
    locked = lock_head(c, logbook, new_epoch)
    c.execute(head.update().where(head.c.key == locked.key).values(epoch=new_epoch))
    leave_gap(c, locked.key)
