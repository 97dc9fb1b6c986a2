"""What is due: a care plan held against the records of a box or shelf.

A pure function of whole local dates; `today` decides only what has lapsed and what a round covers.
Tasks of days to come are given too: what is due now is what has `due` up to today. There is at most
one task for each rule and subject.
"""

from collections.abc import Mapping, Sequence
from typing import Any, TypedDict

from sporeline.kernel.asking import Asking, Away
from sporeline.kernel.days import from_day, to_day
from sporeline.kernel.judging import Setting, weigh_each
from sporeline.kernel.plan import Growing, Outlook, Rule
from sporeline.kernel.record import Record
from sporeline.kernel.walking import round_of


class Task(TypedDict):
    """`id` is `{subject}/{rule}/{anchor date}`. `until`: the last day on which it is asked, or None.
    `covers`: the sowings that the question is about; of a round, the boxes."""

    id: str
    subject: str
    rule: str
    due: str
    until: str | None
    ask: list[str]
    from_outlook: bool
    covers: list[str]


def due(
    plan: Mapping[str, Any],
    subject: Record,
    inside: Sequence[Record],
    growing: Mapping[str, Growing],
    outlook: Sequence[Outlook],
    away: Away,
    today: str,
) -> list[Task]:
    """The tasks about `subject`, a folded box or shelf, by (due, id).

    `inside`: records that stand on or in it (of a shelf: its boxes and their sowings). `growing`: by
    sowing, how its fern usually grows; a sowing that is left out is of an unknown kind. `outlook`:
    rows for sowings, the highest `n` wins. `away`: days on which nothing can be done.
    """
    newest = {row["about"]: row for row in sorted(outlook, key=lambda row: int(row["n"]))}
    setting = Setting(plan["rules"], inside, growing, newest, away, to_day(today))
    rules = [rule for rule in setting.rules if rule["subject"] == subject["type"]]
    found = [_task(setting, rule, subject) for rule in rules]
    return sorted((task for task in found if task), key=lambda task: (task["due"], task["id"]))


def _task(setting: Setting, rule: Rule, subject: Record) -> Task | None:
    if rule.get("each") == "box":
        asking, covers = round_of(setting, rule, subject)
        return _written(rule, subject, asking, covers) if asking else None
    asked = [one for one in weigh_each(setting, rule, subject) if not one.asking.lapsed]
    if not asked:
        return None
    first = min(asked, key=lambda one: (one.asking.due, one.asking.anchor, one.each["id"])).asking
    by_then = max(first.due, setting.today)
    same = [one for one in asked if one.asking.anchor == first.anchor and one.asking.due <= by_then]
    return _written(rule, subject, first, [one.each["id"] for one in same if "each" in rule])


def _written(rule: Rule, subject: Record, asking: Asking, covers: list[str]) -> Task:
    return {
        "id": f"{subject['id']}/{rule['rule']}/{from_day(asking.anchor)}",
        "subject": subject["id"],
        "rule": rule["rule"],
        "due": from_day(asking.due),
        "until": None if asking.until is None else from_day(asking.until),
        "ask": list(rule["ask"]),
        "from_outlook": asking.from_outlook,
        "covers": sorted(covers),
    }
