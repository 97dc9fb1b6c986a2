"""Whether a care plan can be followed: whether this side understands every part of its rules.

People write plans of their own, and a newer app may write parts that this one does not know. Such a
plan must neither be misread nor stop everything else, so `due` is given only what passes here. The
JSON Schema of care plans asks for more, of plans that we ship.
"""

from collections.abc import Callable, Mapping
from typing import Any

from sporeline.kernel.days import duration_days

Shape = Callable[[Any], bool]


def is_plan(value: Any) -> bool:
    return isinstance(value, Mapping) and _list_of(_rule)(value.get("rules"))


def _rule(value: Any) -> bool:
    if not isinstance(value, Mapping) or ("wait" in value) == ("every" in value):
        return False
    return _ROUND(value) if value.get("each") == "box" else _QUESTION(value)


def _text(value: Any) -> bool:
    return isinstance(value, str)


def _text_or_null(value: Any) -> bool:
    return value is None or isinstance(value, str)


def _flag(value: Any) -> bool:
    return isinstance(value, bool)


def _data(value: Any) -> bool:
    return isinstance(value, Mapping)


def _duration(value: Any) -> bool:
    try:
        return isinstance(value, str) and duration_days(value) >= 0
    except ValueError:
        return False


def _word(*words: str) -> Shape:
    return lambda value: isinstance(value, str) and value in words


def _list_of(shape: Shape) -> Shape:
    return lambda value: isinstance(value, list) and all(map(shape, value))


def _map_of(shape: Shape) -> Shape:
    return lambda value: isinstance(value, Mapping) and all(map(shape, value.values()))


def _any_of(*shapes: Shape) -> Shape:
    return lambda value: any(shape(value) for shape in shapes)


def _parts(needed: Mapping[str, Shape], others: Mapping[str, Shape]) -> Shape:
    """An object with these parts and no others."""
    known = {**others, **needed}

    def fits(value: Any) -> bool:
        if not isinstance(value, Mapping) or not needed.keys() <= value.keys():
            return False
        return all(name in known and known[name](part) for name, part in value.items())

    return fits


_SOURCE = _any_of(
    _parts({"last": _text}, {"of": _word("each", "subject", "inside", "all")}),
    _parts({"since": _text}, {}),
    _parts({"answered": _text}, {"codes": _list_of(_text), "take": _word("first")}),
)
_CONDITION = _any_of(
    _parts({"state": _text, "in": _list_of(_text_or_null)}, {}),
    _parts({"answered": _text, "codes": _list_of(_text), "is": _flag}, {}),
    _parts({"apogamous": _flag}, {}),
)
_WAIT = _any_of(
    _duration,
    _list_of(_duration),
    _parts({"span": _text, "else": _duration}, {}),
    _parts({"usual": _duration, "after": _map_of(_duration)}, {}),
    _parts({"usual": _duration}, {"green": _duration, "apogamous": _duration}),
)
_ENDS = _any_of(
    _parts({"by": _word("answer", "turns", "empty")}, {}),
    _parts({"by": _word("age"), "after": _duration, "from": _SOURCE}, {}),
)
_TEMPLATE = _parts(
    {"kind": _text, "about": _word("subject", "each"), "data": _data},
    {
        "also": _word("subject", "covers"),
        "by": _parts({"state": _text, "data": _map_of(_data)}, {}),
    },
)
_SOURCES, _CONDITIONS = _list_of(_SOURCE), _list_of(_CONDITION)
_COMMON: Mapping[str, Shape] = {
    "rule": _text,
    "anchor": _SOURCES,
    "ends": _ENDS,
    "ask": _list_of(_text),
    "answers": _map_of(_list_of(_TEMPLATE)),
    "question": _text,
    "why": _text,
}
_QUESTION = _parts(
    {**_COMMON, "subject": _word("box")},
    {
        "each": _word("sowing"),
        "while": _CONDITIONS,
        "wait": _WAIT,
        "every": _WAIT,
        "done_by": _SOURCES,
        "until": _duration,
        "again": _parts({"anchor": _SOURCES, "wait": _duration}, {}),
        "caution": _text,
    },
)
_ROUND = _parts(
    {
        **_COMMON,
        "subject": _word("shelf"),
        "each": _word("box"),
        "every": _duration,
        "past": _list_of(_text),
        "looks": _SOURCES,
        "placed": _SOURCES,
    },
    {"leaves_out": _CONDITIONS, "caution": _text},
)
