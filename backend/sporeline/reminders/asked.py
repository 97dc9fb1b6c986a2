"""Who is asked what about one box or shelf, in which words and at which hour."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from sporeline.kernel.due import Task
from sporeline.kernel.record import Record
from sporeline.people.roles import Role, may
from sporeline.reminders import tasks
from sporeline.reminders.hours import Hours, hours_of, local_day, midnight
from sporeline.reminders.notices import words_of
from sporeline.reminders.rows import Wanted
from sporeline.reminders.tasks import Bench, Rules

NEVER = 2**62


@dataclass(frozen=True)
class Now:
    """Both clocks at one instant."""

    wall_ms: int
    shift_days: int = 0


@dataclass
class Found:
    """What one box or shelf asks of whom, from which records, and until when that holds (ms)."""

    wanted: list[Wanted] = field(default_factory=list)
    needs: set[str] = field(default_factory=set)
    again_at: int = NEVER


@dataclass(frozen=True)
class Asked:
    """A person who may be asked, on their own day."""

    person: str
    hours: Hours
    day: str
    away: tuple[tuple[str, str], ...]
    fern_names: bool


class Asker:
    """Asks the members of one logbook at one instant."""

    def __init__(self, roles: Mapping[str, Role], now: Now) -> None:
        self._roles = roles
        self._now = now

    def ask(self, bench: Bench, subject: Record, rules: Rules) -> Found:
        """What `subject` asks of everybody. A double, and what nobody keeps, asks nothing."""
        bench.asked.clear()
        found = Found()
        standing = bench.get(subject["id"])
        if standing is not None and standing["id"] == subject["id"]:
            self._ask(bench, subject, rules, found)
        found.needs = set(bench.asked)
        return found

    def _ask(self, bench: Bench, subject: Record, rules: Rules, found: Found) -> None:
        ferns = tasks.ferns_in(bench, subject)
        known: dict[tuple[object, str], list[Task]] = {}
        for asked in self._candidates(bench, subject):
            at = asked.away, asked.day
            if at not in known:
                away = [{"from": start, "to": end} for start, end in asked.away]
                known[at] = tasks.tasks_of(bench, subject, rules, away, asked.day)
            for task in known[at]:
                if self._theirs(bench, subject, asked, max(task["due"], asked.day)):
                    found.wanted.append(_wanted(task, subject, ferns, asked))
            again = min(_days_after(bench, subject, asked.day, known[at]), default=None)
            if again is not None:
                shift = self._now.shift_days
                found.again_at = min(found.again_at, midnight(again, asked.hours, shift))

    def _candidates(self, bench: Bench, subject: Record) -> list[Asked]:
        """Members who keep it on some day, and those who may write: on days nobody keeps it."""
        named = {span["person"] for span in _spans(bench, subject)}
        return [
            self._asked(bench, person)
            for person, role in sorted(self._roles.items())
            if may(role, "write") or (may(role, "look") and person in named)
        ]

    def _asked(self, bench: Bench, person: str) -> Asked:
        record = bench.get(person)
        fields = record["fields"].get("person.described", {}) if record else {}
        hours = hours_of(fields)
        return Asked(
            person,
            hours,
            local_day(self._now.wall_ms, hours.zone, self._now.shift_days),
            tuple((span["from"], span["to"]) for span in tasks.away_of(record)),
            fields.get("detail") is not False,
        )

    def _theirs(self, bench: Bench, subject: Record, asked: Asked, day: str) -> bool:
        """A watcher is told only of what was handed to them."""
        keepers = tasks.keepers_on(bench, subject, day)
        if keepers is None:
            return may(self._roles[asked.person], "write")
        return asked.person in keepers


def _wanted(task: Task, subject: Record, ferns: list[str], asked: Asked) -> Wanted:
    rule = task["rule"]
    boxes = len(task["covers"])
    words = words_of(rule, subject, ferns, boxes, fern_names=asked.fern_names)
    return Wanted(
        task=task["id"],
        person=asked.person,
        rule=rule,
        due=task["due"],
        until=task["until"],
        title=words.title,
        body=words.body,
        hours=asked.hours,
    )


def _days_after(bench: Bench, subject: Record, day: str, found: Iterable[Task]) -> list[str]:
    """The days after `day` on which time alone changes something: a question lapses, a shelf is
    handed over. What a round covers may change every day."""
    days = [_next(task["until"]) for task in found if task["until"]]
    for span in _spans(bench, subject):
        days += [span["from"]] if span.get("from") else []
        days += [_next(span["to"])] if span.get("to") else []
    if subject["type"] == "shelf":
        days.append(_next(day))
    return [one for one in days if one > day]


def _spans(bench: Bench, subject: Record) -> list[Mapping[str, Any]]:
    """Keepers of the subject and of the shelf it stands on."""
    shelf = tasks.shelf_of(subject) if subject["type"] == "box" else None
    above = bench.get(shelf) if shelf else None
    return tasks.keeper_spans(subject) + (tasks.keeper_spans(above) if above else [])


def _next(day: str) -> str:
    return (date.fromisoformat(day) + timedelta(days=1)).isoformat()
