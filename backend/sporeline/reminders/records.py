"""The records of a logbook as `tasks.py` asks for them: from the database, each read once."""

from __future__ import annotations

import json
from collections.abc import Callable, Collection, Iterable, Mapping
from typing import Any, cast

from sqlalchemy import Connection, select

from sporeline import logbook as log
from sporeline.kernel.plan_shape import is_plan
from sporeline.kernel.record import Record
from sporeline.logbook.heads import head_row
from sporeline.people.roles import Role
from sporeline.people.tables import member
from sporeline.reminders.tasks import SEEN, Bench, Rules, stated_by, subjects_in

Stated = Callable[[str], Iterable[str]]


class Reader:
    """Reads records by id and remembers them, also those that are not there."""

    def __init__(self, c: Connection, logbook: str) -> None:
        self._c = c
        self._logbook = logbook
        self._known: dict[str, Record | None] = {}

    def fetch(self, ids: Collection[str]) -> list[Record]:
        """These records at once."""
        missing = [id for id in ids if id not in self._known]
        self._known.update(dict.fromkeys(missing))
        if missing:
            self._remember(log.read_records(self._c, self._logbook, ids=missing))
        return [record for id in ids if (record := self._known[id]) is not None]

    def fetch_types(self, types: Collection[str]) -> list[Record]:
        """All records of these types."""
        return self._remember(log.read_records(self._c, self._logbook, types=types))

    def __call__(self, id: str) -> Record | None:
        return next(iter(self.fetch([id])), None)

    def _remember(self, stored: Iterable[log.StoredRecord]) -> list[Record]:
        records = [cast(Record, record) for record in stored]
        self._known.update((record["id"], record) for record in records)
        return records


def whole_bench(c: Connection, logbook: str) -> tuple[Bench, list[Record]]:
    """The bench of a logbook with everything on it, and its boxes and shelves, by id."""
    reader = Reader(c, logbook)
    records = reader.fetch_types(SEEN)
    bench = Bench(reader, stated_by(records))
    return bench, subjects_in(bench, records)


def role_of(c: Connection, logbook: str, person: str) -> Role | None:
    """A person's role in a logbook; None for who is no member."""
    return roles_of(c, logbook).get(person)


def roles_of(c: Connection, logbook: str) -> dict[str, Role]:
    """Roles by person."""
    query = select(member.c.person, member.c.role).where(member.c.logbook == logbook)
    return {row.person: row.role for row in c.execute(query)}


def rules_of(c: Connection, logbook: str, bench: Bench) -> Rules:
    """Plans and outlooks of a logbook; plans are read when a box names them."""
    known: dict[str, Mapping[str, Any] | None] = {}

    def plan(entry: str) -> Mapping[str, Any] | None:
        if entry not in known:
            known[entry] = _plan_in(c, logbook, entry, bench)
        return known[entry]

    return Rules(plan, outlooks_of(c, logbook))


def outlooks_of(c: Connection, logbook: str, after: int = 0) -> list[dict[str, Any]]:
    """Rows with a higher `n`."""
    head = head_row(c, logbook)
    texts = log.read_outlooks(c, head.key, after) if head else []
    return [json.loads(text) for text in texts]


def _plan_in(c: Connection, logbook: str, id: str, bench: Bench) -> Mapping[str, Any] | None:
    """The plan in a `plan.set` entry that is stored, not struck, and understood here."""
    for entry in log.read_entries(c, logbook, [id]):
        if entry["kind"] != "plan.set" or entry["state"] != "stored":
            continue
        record = bench.get(entry["about"])
        plan: Mapping[str, Any] = entry["data"]["plan"]
        if record is not None and id not in record["struck"] and is_plan(plan):
            return plan
    return None
