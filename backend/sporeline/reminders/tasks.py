"""What is due in a logbook: the kernel's `due` over its boxes and shelves, and who keeps what.

Twin of the phone's `records/chores.ts`: the same inputs, the same tasks. Nothing here asks a
database or a clock; records come through a `Bench`.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any

from sporeline.contract.taxa import growing_of
from sporeline.kernel.due import Task, due
from sporeline.kernel.record import Record
from sporeline.logbook.line import name_of
from sporeline.reminders.notices import fern_words

SUBJECTS = ("box", "shelf")
"""Types of records that a plan has tasks about."""
SEEN = (*SUBJECTS, "sowing")
"""Types of records that a task is reckoned from, beside the line of what was sown."""

Away = Sequence[Mapping[str, str]]


@dataclass
class Bench:
    """The records of one logbook, as far as somebody asks for them.

    `read(id)`: the record as it is folded, None when there is none. `stated(id)`: ids of records
    that say they are in this one, or that they are the same as it; see `container_of`.
    """

    read: Callable[[str], Record | None]
    stated: Callable[[str], Iterable[str]]
    asked: set[str] = field(default_factory=set)
    """Every id that was asked for: what an answer depends on."""

    def get(self, id: str) -> Record | None:
        """The record that stands for this id: a double stands for nothing itself."""
        met: set[str] = set()
        record = self._read(id)
        while record is not None and (other := same_as(record)) and other not in met:
            met.add(record["id"])
            if (older := self._read(other)) is None:
                break
            record = older
        return record

    def sowings_in(self, box: str) -> list[Record]:
        """By part, then id."""
        found = self._inside(box, "sowing")
        return sorted(found, key=lambda one: (str(_described(one).get("part") or ""), one["id"]))

    def boxes_on(self, shelf: str) -> list[Record]:
        """By id."""
        return sorted(self._inside(shelf, "box"), key=lambda one: one["id"])

    def inside(self, subject: Record) -> list[Record]:
        """Sowings of a box; boxes of a shelf and their sowings. What names a double is told to the
        kernel as being in its elder."""
        id = subject["id"]
        if subject["type"] == "box":
            return [_in_box(one, id) for one in self.sowings_in(id)]
        boxes = [_on_shelf(one, id) for one in self.boxes_on(id)]
        return boxes + [one for box in boxes for one in self.inside(box)]

    def name_of(self, record: Record) -> Mapping[str, Any] | None:
        """The name nearest up the line."""
        naming: Mapping[str, Any] | None = name_of(record, self.get, self.sowings_in)
        return naming

    def _inside(self, container: str, kind: str) -> list[Record]:
        found: dict[str, Record] = {}
        waiting, met = [container], {container}
        while waiting:
            for id in self.stated(waiting.pop()):
                record = self._read(id)
                if record is None or id in met:
                    continue
                if same_as(record):  # a double of the container: what says it is in it, is in this
                    met.add(id)
                    waiting.append(id)
                elif record["type"] == kind:
                    found[id] = record
        return list(found.values())

    def _read(self, id: str) -> Record | None:
        self.asked.add(id)
        return self.read(id)


@dataclass(frozen=True)
class Rules:
    """What tasks are reckoned by. `plan`: the care plan that a `plan.set` entry holds, None where
    there is no such entry or it does not count."""

    plan: Callable[[str], Mapping[str, Any] | None]
    outlooks: Sequence[Mapping[str, Any]] = ()


def tasks_of(bench: Bench, subject: Record, rules: Rules, away: Away, day: str) -> list[Task]:
    """The tasks about one box or shelf as if it were `day`, also those of later days."""
    inside = bench.inside(subject)
    about = {subject["id"], *(one["id"] for one in inside)}
    growing = {
        one["id"]: growing_of((bench.name_of(one) or {}).get("taxon"))
        for one in inside
        if one["type"] == "sowing"
    }
    outlooks = [row for row in rules.outlooks if row["about"] in about]
    entry = plan_entry_of(subject)
    plan = (rules.plan(entry) if entry else None) or shipped_plan()
    return due(plan, subject, inside, growing, outlooks, away, day)


def tasks_on(
    bench: Bench, subjects: Iterable[Record], rules: Rules, person: str | None, day: str
) -> list[Task]:
    """What is due up to `day` of what the person keeps that day; of everything for None."""
    away = away_of(bench.get(person)) if person else []
    kept = [one for one in subjects if person is None or keeps(bench, person, one, day)]
    found = [task for one in kept for task in tasks_of(bench, one, rules, away, day)]
    return sorted(
        (task for task in found if task["due"] <= day), key=lambda task: (task["due"], task["id"])
    )


def keepers_on(bench: Bench, subject: Record, day: str) -> list[str] | None:
    """Whoever keeps it that day; if nobody, who keeps its shelf; None: everybody."""
    own = [
        keeper["person"]
        for keeper in keeper_spans(subject)
        if (keeper.get("from") or day) <= day <= (keeper.get("to") or day)
    ]
    if own or subject["type"] != "box":
        return own or None
    shelf = shelf_of(subject)
    above = bench.get(shelf) if shelf else None
    return keepers_on(bench, above, day) if above else None


def keeps(bench: Bench, person: str, subject: Record, day: str) -> bool:
    """Whether it is theirs to look after that day."""
    keepers = keepers_on(bench, subject, day)
    return keepers is None or person in keepers


def keeper_spans(subject: Record) -> list[Mapping[str, Any]]:
    """`[{"person", "from"?, "to"?}]`; both days belong to it."""
    keepers = _described(subject).get("keeper") or []
    return [keeper for keeper in keepers if isinstance(keeper.get("person"), str)]


def away_of(person: Record | None) -> Away:
    """The days on which a person looks after nothing."""
    away: Away = (_described(person) if person else {}).get("away") or []
    return away


def ferns_in(bench: Bench, subject: Record) -> list[str]:
    """The ferns of a box in words, in the order of its parts. A shelf has too many to name."""
    if subject["type"] != "box":
        return []
    named = [fern_words(bench.name_of(one)) for one in bench.sowings_in(subject["id"])]
    return [fern for fern in named if fern]


def container_of(record: Record) -> str | None:
    """What a record says it is in: a sowing its box, a box its shelf; a double its elder."""
    if (elder := same_as(record)) is not None:
        return elder
    if record["type"] == "box":
        return shelf_of(record)
    box = _described(record).get("box") if record["type"] == "sowing" else None
    return box if isinstance(box, str) else None


def _in_box(sowing: Record, box: str) -> Record:
    described = _described(sowing)
    if described.get("box") == box:
        return sowing
    return {**sowing, "fields": {**sowing["fields"], "sowing.described": {**described, "box": box}}}


def _on_shelf(box: Record, shelf: str) -> Record:
    state = box["states"]["shelf"]
    if state["value"] == shelf:
        return box
    return {**box, "states": {**box["states"], "shelf": {**state, "value": shelf}}}


def stated_by(records: Iterable[Record]) -> Callable[[str], Iterable[str]]:
    """For a `Bench`: who says it is in something, from records in memory."""
    stated: dict[str, list[str]] = {}
    for record in records:
        if (container := container_of(record)) is not None:
            stated.setdefault(container, []).append(record["id"])
    return lambda id: stated.get(id, ())


def subjects_in(bench: Bench, records: Iterable[Record]) -> list[Record]:
    """The boxes and shelves among these that are nothing's double."""
    return [one for one in records if one["type"] in SUBJECTS and bench.get(one["id"]) is one]


def same_as(record: Record) -> str | None:
    """The record that this one is a double of."""
    elder = record["fields"].get("record.described", {}).get("same_as")
    return elder if isinstance(elder, str) and elder != record["id"] else None


def shelf_of(box: Record) -> str | None:
    """Where a box stands."""
    shelf = box["states"].get("shelf")
    return shelf["value"] if shelf and isinstance(shelf["value"], str) else None


def plan_entry_of(subject: Record) -> str | None:
    """The `plan.set` entry that a box follows."""
    entry = _described(subject).get("plan") if subject["type"] == "box" else None
    return entry if isinstance(entry, str) else None


@cache
def shipped_plan() -> Mapping[str, Any]:
    """The care plan for who has none of their own: a closed box on heat-treated mix."""
    path = files("sporeline.contract") / "plans" / "closed_box.json"
    plan: Mapping[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return plan


def _described(record: Record) -> Mapping[str, Any]:
    return record["fields"].get(f"{record['type']}.described", {})
