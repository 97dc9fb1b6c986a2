"""What is due in a logbook after what changed: read first, written afterwards if nobody was quicker.

Reading needs no lock, however long it takes; writing is short. Only boxes and shelves that depend
on a record that was folded again, or on a day that came, are reckoned.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, Table, delete, insert, select, update

from sporeline import logbook as log
from sporeline.logbook.heads import insert_of
from sporeline.logbook.records import AT_ONCE
from sporeline.reminders.asked import Asker, Found, Now
from sporeline.reminders.records import Reader, outlooks_of, roles_of, rules_of
from sporeline.reminders.rows import keep_rows
from sporeline.reminders.tables import due_head, due_inside, due_need, due_subject
from sporeline.reminders.tasks import SEEN, SUBJECTS, Bench, container_of


@dataclass
class Reckoned:
    """A reading of a logbook, to be kept by `write`. `turn` None: the first of this logbook.
    `containers`: what records that changed say they are in."""

    logbook: str
    turn: int | None
    seq: int
    outlook: int
    members: str
    containers: dict[str, str | None] = field(default_factory=dict)
    found: dict[str, Found] = field(default_factory=dict)


def read(c: Connection, logbook: str, now: Now, *, everything: bool = False) -> Reckoned | None:
    """What changed since the last reckoning; None when that was nothing."""
    last = c.execute(select(due_head).where(due_head.c.logbook == logbook)).one_or_none()
    roles = roles_of(c, logbook)
    members = json.dumps(roles, sort_keys=True)
    seq = log.head_of(c, logbook)
    if last is None:
        reckoned = Reckoned(logbook, None, seq, 0, members)
    else:
        reckoned = Reckoned(logbook, last.turn, seq, last.outlook, members)
    new = outlooks_of(c, logbook, reckoned.outlook)
    reckoned.outlook = max((row["n"] for row in new), default=reckoned.outlook)
    asker = Asker(roles, now)
    if everything or last is None or last.members != members:
        _find_all(c, reckoned, asker)
    elif (come := _come(c, logbook, now)) or last.seq != seq or new:
        ids = set(log.changed_since(c, logbook, last.seq)) | {row["about"] for row in new}
        _find_changed(c, reckoned, asker, ids, come)
    else:
        return None
    return reckoned


def write(c: Connection, reckoned: Reckoned, now: Now) -> bool:
    """Keep a reading. False, and nothing is kept, when somebody wrote a later one meanwhile."""
    if not _take_turn(c, reckoned):
        return False
    logbook, found = reckoned.logbook, reckoned.found
    containers = [
        {"record": record, "container": container}
        for record, container in reckoned.containers.items()
        if container is not None
    ]
    needs = [
        {"subject": subject, "record": record}
        for subject, one in found.items()
        for record in sorted(one.needs)
    ]
    again = [{"subject": subject, "again_at": one.again_at} for subject, one in found.items()]
    _replace(c, due_inside, "record", logbook, reckoned.containers, containers)
    _replace(c, due_need, "subject", logbook, found, needs)
    _replace(c, due_subject, "subject", logbook, found, again)
    for subject, one in found.items():
        keep_rows(c, logbook, subject, one.wanted, now.wall_ms, now.shift_days)
    return True


def _find_all(c: Connection, reckoned: Reckoned, asker: Asker) -> None:
    reader = Reader(c, reckoned.logbook)
    records = reader.fetch_types(SEEN)
    reckoned.containers = {one["id"]: container_of(one) for one in records}
    query = select(due_subject.c.subject).where(due_subject.c.logbook == reckoned.logbook)
    subjects = {one["id"] for one in records} | set(c.scalars(query))
    _find(c, reckoned, asker, reader, subjects)


def _find_changed(
    c: Connection, reckoned: Reckoned, asker: Asker, ids: set[str], come: set[str]
) -> None:
    """Subjects that depend on records with these ids, and those whose day has come."""
    reader = Reader(c, reckoned.logbook)
    reckoned.containers = {one["id"]: container_of(one) for one in reader.fetch(sorted(ids))}
    subjects = ids | come | _depending(c, reckoned.logbook, ids)
    boxes = _containers(reader, subjects)
    _find(c, reckoned, asker, reader, subjects | boxes | _containers(reader, boxes))


def _find(
    c: Connection, reckoned: Reckoned, asker: Asker, reader: Reader, subjects: Collection[str]
) -> None:
    bench = Bench(reader, lambda id: _stated(c, reckoned, id))
    rules = rules_of(c, reckoned.logbook, bench)
    for id in sorted(subjects):
        record = reader(id)
        if record is not None and record["type"] in SUBJECTS:
            reckoned.found[id] = asker.ask(bench, record, rules)
        else:  # no box or shelf, or not any more: nothing is asked about it
            reckoned.found[id] = Found()


def _containers(reader: Reader, ids: Collection[str]) -> set[str]:
    """What these records say they are in."""
    containers = map(container_of, reader.fetch(sorted(ids)))
    return {container for container in containers if container is not None}


def _stated(c: Connection, reckoned: Reckoned, id: str) -> Iterable[str]:
    """Who says it is in this: as it was kept, with what changed over it."""
    query = select(due_inside.c.record).where(
        due_inside.c.logbook == reckoned.logbook, due_inside.c.container == id
    )
    changed = reckoned.containers
    kept = [record for record in c.scalars(query) if record not in changed]
    return [*kept, *(record for record, container in changed.items() if container == id)]


def _come(c: Connection, logbook: str, now: Now) -> set[str]:
    """Subjects whose day has come."""
    query = select(due_subject.c.subject).where(
        due_subject.c.logbook == logbook, due_subject.c.again_at <= now.wall_ms
    )
    return set(c.scalars(query))


def _depending(c: Connection, logbook: str, ids: Collection[str]) -> set[str]:
    """Subjects that were reckoned from any of these records."""
    found: set[str] = set()
    chosen = sorted(ids)
    for at in range(0, len(chosen), AT_ONCE):
        query = select(due_need.c.subject).where(
            due_need.c.logbook == logbook, due_need.c.record.in_(chosen[at : at + AT_ONCE])
        )
        found.update(c.scalars(query))
    return found


def _take_turn(c: Connection, reckoned: Reckoned) -> bool:
    values = {
        "seq": reckoned.seq,
        "outlook": reckoned.outlook,
        "members": reckoned.members,
        "turn": (reckoned.turn or 0) + 1,
    }
    if reckoned.turn is None:
        new = insert_of(c, due_head).values(logbook=reckoned.logbook, **values)
        return bool(c.execute(new.on_conflict_do_nothing()).rowcount)
    mine = (due_head.c.logbook == reckoned.logbook) & (due_head.c.turn == reckoned.turn)
    return bool(c.execute(update(due_head).where(mine).values(values)).rowcount)


def _replace(
    c: Connection,
    table: Table,
    column: str,
    logbook: str,
    keys: Iterable[str],
    rows: list[dict[str, Any]],
) -> None:
    """Put `rows` in place of all rows with these keys."""
    chosen = sorted(keys)
    for at in range(0, len(chosen), AT_ONCE):
        here = table.c[column].in_(chosen[at : at + AT_ONCE])
        c.execute(delete(table).where(table.c.logbook == logbook, here))
    if rows:
        c.execute(insert(table), [{"logbook": logbook, **row} for row in rows])
