"""The line from spore to plant: the name nearest up the line, and what a label says.

Twin of `pwa/src/records/line.ts`, held equal by `tests/vectors/line/`. It needs several records, so
it stands outside the kernel.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypedDict

AnyRecord = Mapping[str, Any]
Get = Callable[[str], AnyRecord | None]
Inside = Callable[[str], Sequence[AnyRecord]]


Naming = TypedDict(
    "Naming",
    {
        "taxon": str | None,
        "sure": str,
        "qualifier": str | None,
        "other": str | None,
        "from": str,
    },
)
"""A name, how sure it is, and `from`: the id of the record that carries it."""

SURENESS = ("unknown", "received", "probable", "certain")
QUALIFIERS = ("cf", "aff", "ex")
STRAIGHT = ("plant", "gathering", "packet")
"""What pots from spores may be made of directly, with no sowing between."""


@dataclass(frozen=True)
class _Line:
    get: Get
    inside: Inside


def name_of(record: AnyRecord, get: Get, inside: Inside) -> Naming | None:
    """The nearest name up the line: the record's own, else that of what it came from.

    None where there is no name, or where several origins do not agree. Offspring from spores of a
    cultivar or a hybrid are "ex" it.

    :param get: a record by its id, or None. :param inside: the sowings of a box, by its id."""
    return _nearest(record, _Line(get, inside), frozenset())


def label_name(record: AnyRecord) -> str | None:
    """What is written on the label: the record's name, else the collector's number."""
    return _text(_said(record, "record.described", "name")) or _text(
        _said(record, "gathering.described", "number")
    )


def _nearest(record: AnyRecord, line: _Line, met: frozenset[str]) -> Naming | None:
    if record["id"] in met:
        return None
    within = met | {record["id"]}
    own = _own_name(record)
    if own is not None:
        return own
    twin = _one(_said(record, "record.described", "same_as"), line)
    merged = _nearest(twin, line, within) if twin is not None else None
    if merged is not None:
        return merged
    origins, by_spores = _came_from(record, line)
    name = _agreed([_nearest(origin, line, within) for origin in origins])
    return _from_spores(name) if name is not None and by_spores else name


def _own_name(record: AnyRecord) -> Naming | None:
    given = record["fields"].get("name.given")
    if given is None:
        return None
    sure, qualifier = given.get("sure"), given.get("qualifier")
    return {
        "taxon": _text(given.get("taxon")),
        "sure": sure if sure in SURENESS else "unknown",
        "qualifier": qualifier if qualifier in QUALIFIERS else None,
        "other": _text(given.get("other")),
        "from": record["id"],
    }


def _came_from(record: AnyRecord, line: _Line) -> tuple[list[AnyRecord], bool]:
    """What a record came from, and whether a generation from spores lies between."""
    type_ = record["type"]
    if type_ == "box":
        sown = line.inside(record["id"])
        return [s for s in sown if _said(s, "sowing.described", "control") is not True], False
    if type_ == "sowing":
        packets = _said(record, "sowing.described", "packets")
        return _some(packets if isinstance(packets, list) else [], line), True
    if type_ == "gathering":
        return _some([_said(record, "gathering.described", "plant")], line), False
    if type_ in ("packet", "clump"):
        return _some([_said(record, f"{type_}.described", "from")], line), False
    if type_ == "pots":
        origins = _some([_said(record, "pots.described", "from")], line)
        straight = all(origin["type"] in STRAIGHT for origin in origins)
        return origins, straight and _said(record, "pots.described", "way") == "spores"
    return [], False


def _agreed(names: Sequence[Naming | None]) -> Naming | None:
    """Several origins have one name only if all say the same; then as sure as the least sure."""
    present = [name for name in names if name is not None]
    if not present or len(present) < len(names):
        return None
    first = present[0]
    for name in present:
        if _words(name) != _words(first):
            return None
    return {**first, "sure": min((name["sure"] for name in present), key=SURENESS.index)}


def _words(name: Naming) -> tuple[str | None, ...]:
    return name["taxon"], name["qualifier"], name["other"]


def _from_spores(name: Naming) -> Naming:
    taxon = name["taxon"] or ""
    bred = "'" in taxon or "×" in taxon
    return {**name, "qualifier": "ex"} if bred and name["qualifier"] is None else name


def _some(ids: Sequence[Any], line: _Line) -> list[AnyRecord]:
    return [found for id in ids if (found := _one(id, line)) is not None]


def _one(id: Any, line: _Line) -> AnyRecord | None:
    return line.get(id) if isinstance(id, str) else None


def _said(record: AnyRecord, kind: str, field: str) -> Any:
    return record["fields"].get(kind, {}).get(field)


def _text(value: Any) -> str | None:
    return value if isinstance(value, str) and value else None
