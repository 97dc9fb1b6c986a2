"""Taking entries up: a verdict for each, numbers for the new ones, the records folded again.

All in the caller's transaction, whose first statement locked the logbook's row.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, select

from sporeline.contract.faults import fault
from sporeline.contract.judging import may_be_filed, records_of
from sporeline.kernel.clock import is_stamp, merge_stamp
from sporeline.logbook import verdicts
from sporeline.logbook.filing import Refold, file_entries, name_photos, refold, renumber
from sporeline.logbook.heads import Head, among, raise_head
from sporeline.logbook.offered import Offered, Refused, read_offered, same_content
from sporeline.logbook.recent import Filed
from sporeline.logbook.tables import entry, is_held, is_vouched
from sporeline.people import Session
from sporeline.people.roles import Role


@dataclass(frozen=True)
class Bringer:
    """Who brings entries, in which role, and when: `today` by the calendar, `now` in wall ms."""

    session: Session
    role: Role
    today: str
    now: int


@dataclass(slots=True)
class Kept:
    """An entry as it is kept beside its text."""

    seq: int
    text: str
    received: int
    held: bool
    vouched: bool
    errors: str | None
    again: bool


@dataclass
class Appended:
    """What became of a batch, in the order sent."""

    stored: list[tuple[str, Kept]] = field(default_factory=list)
    refused: list[Refused] = field(default_factory=list)
    seq: int = 0
    """The head of the logbook afterwards."""


class _Batch:
    """One batch on its way into the log."""

    def __init__(self, c: Connection, head: Head, bringer: Bringer, recent: Filed) -> None:
        self.c, self.head, self.bringer, self.recent = c, head, bringer, recent
        self.seq = head.seq
        self.known: dict[str, Kept] = {}
        self.rows: dict[int, dict[str, Any]] = {}
        self.new: dict[int, dict[str, Any]] = {}
        """Number to content of what is new here: it need not be read back for the fold."""
        self.filed: dict[int, list[str]] = {}
        self.touched: set[str] = set()
        self.done = Appended()


def append(
    c: Connection, head: Head, bringer: Bringer, entries: Sequence[Any], recent: Filed
) -> Appended:
    """Take up a batch. Known entries are not judged again.

    :param head: the locked row. :param recent: records as they stand there (see `recent.py`);
        brought up to date.
    """
    batch = _Batch(c, head, bringer, recent)
    offered = [read_offered(at, value, bringer.session) for at, value in enumerate(entries)]
    batch.known = _known(c, head.key, [each.id for each in offered if isinstance(each, Offered)])
    for at, each in enumerate(offered):
        if isinstance(each, Refused):
            batch.done.refused.append(each)
        else:
            _take(batch, at, each)
    _write_new(batch)
    raise_head(c, head, batch.seq)
    refold(c, head.key, Refold(batch.touched, batch.seq, batch.new, batch.filed, recent))
    batch.done.seq = batch.seq
    return batch.done


def _take(batch: _Batch, at: int, offered: Offered) -> None:
    kept = batch.known.get(offered.id)
    if kept is None:
        kept = batch.known[offered.id] = _number(batch, offered)
        batch.done.stored.append((offered.id, kept))
    elif same_content(offered, kept.text):
        batch.done.stored.append((offered.id, _again(batch, offered, kept)))
    else:
        batch.done.refused.append(Refused(at, offered.id, fault("id-reused", "id")))


def _number(batch: _Batch, offered: Offered) -> Kept:
    """Judge a new entry and give it the next number."""
    bringer, content = batch.bringer, offered.content
    session = bringer.session
    faults = verdicts.judge(offered, session, bringer.role, bringer.today)
    errors = json.dumps(faults, ensure_ascii=False, separators=(",", ":")) if faults else None
    received = min(offered.received or bringer.now, bringer.now)
    vouched = content["by"] == session.person
    batch.seq += 1
    batch.new[batch.seq] = content
    row = {
        "key": batch.head.key,
        "seq": batch.seq,
        "id": offered.id,
        "text": offered.text,
        "received": received,
        "held": bool(faults),
        "vouched": vouched,
        "via": None if vouched else session.device,
        "errors": errors,
        "only_for": verdicts.only_for(content),
    }
    batch.rows[batch.seq] = row
    return Kept(batch.seq, offered.text, received, bool(faults), vouched, errors, again=False)


def _again(batch: _Batch, offered: Offered, kept: Kept) -> Kept:
    """Known and equal: it may become vouched for, and an earlier receipt is believed."""
    changes: dict[str, Any] = {}
    if not kept.vouched and offered.content["by"] == batch.bringer.session.person:
        changes["vouched"] = kept.vouched = True
    if offered.received is not None and offered.received < kept.received:
        later, kept.received = kept.received, offered.received
        changes["received"] = offered.received
        _order_again(batch, offered, kept, later)
    if changes:
        _change(batch, kept.seq, changes)
    return Kept(
        kept.seq, kept.text, kept.received, kept.held, kept.vouched, kept.errors, again=True
    )


def _order_again(batch: _Batch, offered: Offered, kept: Kept, later: int) -> None:
    """Phones that know the later receipt would order it otherwise (a wrong clock, a restored
    server): then it is delivered again, under a new number."""
    made = offered.content.get("made")
    if not is_stamp(made) or kept.seq > batch.head.seq:
        return
    if merge_stamp(str(made), kept.received) != merge_stamp(str(made), later):
        batch.seq += 1
        moved = renumber(batch.c, batch.head.key, kept.seq, batch.seq)
        kept.seq = batch.seq
        batch.touched.update(moved)
        for each in moved:
            batch.recent.pop(each, None)


def _change(batch: _Batch, seq: int, changes: dict[str, Any]) -> None:
    """In the table, or in the rows that are still on their way there."""
    if seq in batch.rows:
        batch.rows[seq].update(changes)
    else:
        here = (entry.c.key == batch.head.key) & (entry.c.seq == seq)
        batch.c.execute(entry.update().where(here).values(changes))


def _write_new(batch: _Batch) -> None:
    if not batch.rows:
        return
    batch.c.execute(entry.insert(), list(batch.rows.values()))
    filed = batch.filed = {
        seq: records_of(content) for seq, content in batch.new.items() if may_be_filed(content)
    }
    file_entries(batch.c, batch.head.key, filed)
    name_photos(batch.c, batch.head.key, batch.new.values())
    for records in filed.values():
        batch.touched.update(records)
    for seq, row in batch.rows.items():
        state = "held" if row["held"] else "stored"
        batch.new[seq] |= {"received": row["received"], "state": state}


def _known(c: Connection, key: int, ids: Iterable[str]) -> dict[str, Kept]:
    columns = (entry.c.id, entry.c.seq, entry.c.text, entry.c.received)
    query = select(*columns, is_held, is_vouched, entry.c.errors)
    here = (entry.c.key == key) & among(c, entry.c.id, ids)
    return {
        id: Kept(seq, text, received, bool(held), bool(vouched), errors, again=True)
        for id, seq, text, received, held, vouched, errors in c.execute(query.where(here)).all()
    }
