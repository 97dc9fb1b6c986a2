"""A care plan as data: what its rules are made of. The shapes are told by the JSON Schema of care
plans in `contract/plans/schema/`; here is only what the reckoning of a single rule needs."""

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from sporeline.kernel.days import duration_days, is_day, to_day
from sporeline.kernel.record import Dated, Record

Rule = Mapping[str, Any]
Growing = Mapping[str, Any]
Outlook = Mapping[str, Any]


class Case(NamedTuple):
    """One rule before one record. `subject`: what the task is about, a box or shelf. `each`: what is
    judged, the subject itself or a record in it. `inside`: the records in `each`. `growing`: how
    the fern of `each` usually grows. `alone`: nothing else in the subject is judged."""

    rule: Rule
    subject: Record
    each: Record
    inside: list[Record]
    growing: Growing | None
    outlook: Outlook | None
    alone: bool


class Answer(NamedTuple):
    """`anchor`: the date in the id of the task that was answered."""

    anchor: str
    code: str
    day: int
    until: str | None


def day_of(dated: Dated) -> int:
    return to_day(dated.get("to", dated["at"][:10]))


def answers(case: Case, rule: str) -> list[Answer]:
    """What was answered for `each` to a rule about the subject, “later” too. An answer is filed
    about the subject and under what it is given for; where that is alone it need not be."""
    prefix = f"task:{case.subject['id']}/{rule}/"
    found = {}
    for record in [case.each, case.subject] if case.alone else [case.each]:
        for name, state in record["states"].items():
            anchor = name.removeprefix(prefix)
            if name.startswith(prefix) and is_day(anchor):
                value, day = state["value"], to_day(state["at"][:10])
                found[anchor] = Answer(anchor, value["answer"], day, value.get("until"))
    return [found[anchor] for anchor in sorted(found)]


def given_answers(case: Case, rule: str, codes: Iterable[str] | None = None) -> list[Answer]:
    """The answers that are one of `codes`, or anything but “later”."""
    every = answers(case, rule)
    return [one for one in every if (one.code in codes if codes else one.code != "later")]


def latest(case: Case, sources: Iterable[Mapping[str, Any]]) -> int | None:
    """The latest day on which one of the sources happened."""
    return max((day for source in sources for day in _days(case, source)), default=None)


def _days(case: Case, source: Mapping[str, Any]) -> list[int]:
    if "answered" in source:
        days = [one.day for one in given_answers(case, source["answered"], source.get("codes"))]
        return [min(days)] if days and source.get("take") == "first" else days
    if "since" in source:
        state = case.each["states"].get(source["since"])
        return [to_day(state["since"][:10])] if state else []
    everywhere = [case.each, *case.inside]
    of = {"each": [case.each], "subject": [case.subject], "inside": case.inside, "all": everywhere}
    records = of[source.get("of", "each")]
    return [day_of(one["last"][source["last"]]) for one in records if source["last"] in one["last"]]


def holds(case: Case, condition: Mapping[str, Any]) -> bool:
    if "state" in condition:
        state = case.each["states"].get(condition["state"])
        return (state["value"] if state else None) in condition["in"]
    if "answered" in condition:
        found = given_answers(case, condition["answered"], condition["codes"])
        return bool(found) is condition["is"]
    return _grows(case, "apogamous") is condition["apogamous"]


def wait_days(case: Case, wait: Any, anchor: int) -> int | None:
    """How long to wait from the anchor, in days; None: not asked of such a fern, or no more."""
    if isinstance(wait, str):
        return duration_days(wait)
    if isinstance(wait, list):
        return _turn(case, wait)
    if "span" in wait:
        return _upper_end(case, wait)
    if "after" in wait:
        codes = [one.code for one in given_answers(case, case.rule["rule"]) if one.day == anchor]
        return duration_days(
            next((wait["after"][c] for c in codes if c in wait["after"]), wait["usual"])
        )
    for manner in ("green", "apogamous"):
        if manner in wait and _grows(case, manner):
            return duration_days(wait[manner])
    return duration_days(wait["usual"])


def _turn(case: Case, waits: list[str]) -> int | None:
    """Each turn has its own wait; answers count since the first source of the anchor."""
    start = latest(case, case.rule["anchor"][:1])
    turns = [
        one for one in given_answers(case, case.rule["rule"]) if start is None or one.day >= start
    ]
    return duration_days(waits[len(turns)]) if len(turns) < len(waits) else None


def _upper_end(case: Case, wait: Mapping[str, str]) -> int | None:
    """The upper end of the usual span, in whole weeks from sowing; an empty span is not asked."""
    if case.growing is None:
        return duration_days(wait["else"])
    span = case.growing["spans"].get(wait["span"])
    return span[1] * 7 if span else None


def _grows(case: Case, manner: str) -> bool:
    return case.growing is not None and case.growing[manner] is True
