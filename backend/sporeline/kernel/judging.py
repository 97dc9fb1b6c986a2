"""All rules of a plan before one box or shelf."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sporeline.kernel.asking import Asking, Away, weigh
from sporeline.kernel.plan import Case, Growing, Outlook, Rule
from sporeline.kernel.record import Record


class Setting(NamedTuple):
    """What stays the same while one subject is judged."""

    rules: Sequence[Rule]
    inside: Sequence[Record]
    growing: Mapping[str, Growing]
    outlook: Mapping[str, Outlook]
    away: Away
    today: int


class Weighed(NamedTuple):
    asking: Asking
    each: Record


def weigh_each(setting: Setting, rule: Rule, subject: Record) -> list[Weighed]:
    """What the rule asks of the subject itself or of each sowing in it, lapsed or not."""
    cases = cases_of(setting, rule, subject)
    weighed = [(weigh(case, setting.away, setting.today), case.each) for case in cases]
    return [Weighed(asking, each) for asking, each in weighed if asking is not None]


def cases_of(setting: Setting, rule: Rule, subject: Record) -> list[Case]:
    if rule.get("each") != "sowing":
        return [Case(rule, subject, subject, [], None, None, False)]
    sowings = sown_in(setting, subject)
    return [
        Case(
            rule,
            subject,
            one,
            [],
            setting.growing.get(one["id"]),
            setting.outlook.get(one["id"]),
            len(sowings) == 1,
        )
        for one in sowings
    ]


def sown_in(setting: Setting, box: Record) -> list[Record]:
    """The sowings of a box. Nothing is asked of an unsown control."""
    return [one for one in sowings_in(setting, box) if _described(one).get("control") is not True]


def sowings_in(setting: Setting, box: Record) -> list[Record]:
    return [one for one in setting.inside if _described(one).get("box") == box["id"]]


def boxes_on(setting: Setting, shelf: Record) -> list[Record]:
    stands = [(one, one["states"].get("shelf")) for one in setting.inside]
    return [one for one, state in stands if state and state["value"] == shelf["id"]]


def _described(sowing: Record) -> Mapping[str, object]:
    return sowing["fields"].get("sowing.described", {})
