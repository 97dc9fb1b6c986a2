"""When one rule asks about one record: from which day, until which, or not at all."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sporeline.kernel.days import duration_days, to_day
from sporeline.kernel.plan import Case, answers, given_answers, holds, latest, wait_days

Away = Sequence[Mapping[str, str]]


class Asking(NamedTuple):
    """`anchor`: the day from which was counted. `until`: the last day on which it is asked, None:
    until answered. `lapsed`: that day is over; the round of the shelf takes care of it."""

    anchor: int
    due: int
    until: int | None
    from_outlook: bool
    lapsed: bool


def weigh(case: Case, away: Away, today: int) -> Asking | None:
    """None: there is nothing to ask, now or later, as things stand."""
    if not all(holds(case, each) for each in case.rule.get("while", ())):
        return None
    anchor = latest(case, case.rule["anchor"])
    if anchor is None:
        return None
    due, from_outlook = _first_due(case, anchor)
    if due is None or _done(case, anchor, due) or _over(case, due):
        return None
    due = back_from(away, postponed(case, anchor, due))
    return _in_time(case, Asking(anchor, due, None, from_outlook, False), away, today)


def back_from(away: Away, day: int) -> int:
    """The day itself, or the first day back when it falls into days away."""
    for span in sorted(away, key=lambda each: each["from"]):
        if to_day(span["from"]) <= day <= to_day(span["to"]):
            day = to_day(span["to"]) + 1
    return day


def _first_due(case: Case, anchor: int) -> tuple[int | None, bool]:
    wait = case.rule.get("wait", case.rule.get("every"))
    if case.outlook is not None and isinstance(wait, Mapping) and "span" in wait:
        return to_day(case.outlook["to"]), True
    days = wait_days(case, wait, anchor)
    return (None if days is None else anchor + days), False


def _done(case: Case, anchor: int, due: int) -> bool:
    """Answered, or looked at anyway on the day or later."""
    looked = latest(case, case.rule.get("done_by", ()))
    if looked is not None and looked >= due:
        return True
    return any(to_day(one.anchor) == anchor for one in given_answers(case, case.rule["rule"]))


def _over(case: Case, due: int) -> bool:
    """A rule that ends by age is not asked beyond it."""
    ends = case.rule["ends"]
    start = latest(case, [ends["from"]]) if "after" in ends else None
    return start is not None and due > start + duration_days(ends["after"])


def postponed(case: Case, anchor: int, due: int) -> int:
    """The day to which “later” put it off (the next day, where none was named), or `due`."""
    for one in answers(case, case.rule["rule"]):
        if to_day(one.anchor) == anchor and one.code == "later":
            return max(due, to_day(one.until) if one.until else one.day + 1)
    return due


def _in_time(case: Case, asking: Asking, away: Away, today: int) -> Asking:
    """What was missed is not heaped up: it lapses, and comes again after the next look."""
    if "until" not in case.rule:
        return asking
    open_for = duration_days(case.rule["until"])
    until = asking.due + open_for
    again = case.rule.get("again", {"anchor": [], "wait": "P0D"})
    looked = latest(case, again["anchor"])
    if looked is not None and looked > until:
        due = back_from(away, looked + duration_days(again["wait"]))
        until = due + open_for
        asking = asking._replace(due=due, from_outlook=False)
    return asking._replace(until=until, lapsed=today > until)
