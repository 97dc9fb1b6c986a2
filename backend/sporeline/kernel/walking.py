"""The round: one look a week at all boxes on a shelf that are past their first look."""

from typing import NamedTuple

from sporeline.kernel.asking import Asking, back_from, postponed
from sporeline.kernel.days import duration_days
from sporeline.kernel.judging import Setting, boxes_on, cases_of, sowings_in, weigh_each
from sporeline.kernel.plan import Case, Rule, holds, latest
from sporeline.kernel.record import Record


class Waiting(NamedTuple):
    """A box that the round may cover. `looked`: the day of its last look. `next`: the first day on
    which it wants another. `busy`: the day from which a question of its own is open, or None."""

    box: Record
    looked: int
    next: int
    busy: int | None

    def free(self, day: int) -> bool:
        return self.busy is None or self.busy > day


def round_of(setting: Setting, rule: Rule, shelf: Record) -> tuple[Asking | None, list[str]]:
    """When the shelf is to be walked next, and the boxes to look at. Boxes with an open question of
    their own are left to it; a box looked at on the day itself is not looked at again."""
    waiting = [one for box in boxes_on(setting, shelf) if (one := _waiting(setting, rule, box))]
    free = [one for one in waiting if one.free(setting.today)]
    if not free:
        return None, []
    asking = _asking(setting, rule, shelf, min(one.next for one in free))
    by_then = max(asking.due, setting.today)
    covers = [one.box["id"] for one in free if one.free(by_then) and one.looked != by_then]
    return (asking if covers else None), covers


def _asking(setting: Setting, rule: Rule, shelf: Record, earliest: int) -> Asking:
    case = Case(rule, shelf, shelf, [], None, None, False)
    wait = duration_days(rule["every"])
    walked = latest(case, rule["anchor"])
    due = earliest if walked is None else max(earliest, walked + wait)
    anchor = due - wait
    due = back_from(setting.away, postponed(case, anchor, due))
    return Asking(anchor, due, None, False, False)


def _waiting(setting: Setting, rule: Rule, box: Record) -> Waiting | None:
    """None: the box is left alone, before its first look or because it was given up."""
    first, others = _own(setting, rule, box)
    lapsed = [one for one in others if one.lapsed]
    if any(not one.lapsed for one in first) or (not lapsed and _left_out(setting, rule, box)):
        return None
    case = Case(rule, box, box, sowings_in(setting, box), None, None, False)
    looked = latest(case, rule["looks"])
    looked = latest(case, rule["placed"]) if looked is None else looked
    if looked is None:
        return None
    after_first = [one.until + 1 for one in first if one.until is not None]
    wants = [looked + duration_days(rule["every"]), *after_first]
    busy = min((one.due for one in others if not one.lapsed), default=None)
    return Waiting(box, looked, max(wants), busy)


def _own(setting: Setting, rule: Rule, box: Record) -> tuple[list[Asking], list[Asking]]:
    """What the box is asked by itself: the first look, and everything else."""
    first: list[Asking] = []
    others: list[Asking] = []
    for own in setting.rules:
        if own["subject"] == "box":
            asked = [one.asking for one in weigh_each(setting, own, box)]
            (first if own["rule"] in rule["past"] else others).extend(asked)
    return first, others


def _left_out(setting: Setting, rule: Rule, box: Record) -> bool:
    cases = cases_of(setting, {**rule, "each": "sowing"}, box)
    conditions = rule.get("leaves_out", [])
    return bool(cases and conditions) and all(holds(c, one) for c in cases for one in conditions)
