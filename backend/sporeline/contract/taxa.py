"""What the tables of ferns say of a fern by its written name.

A value is the species' own, else its genus', else not known. Twin of `pwa/src/contract/taxa.ts`,
held equal by `tests/vectors/taxa/`. The tables, their marks and sources: `taxa/README.md`.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from functools import cache
from importlib import resources
from typing import Any, TypedDict

Row = Mapping[str, Any]

STAGES = ("green", "prothalli", "first_fronds", "prick_out", "small_pot")
GUESSED_GROUP = "quick_woodland"
NOT_GREEN = (None, "no")
_PASSED_OVER = frozenset(("×", "x", "cf.", "aff.", "ex"))


class Growing(TypedDict):
    """`spans`: usual weeks from sowing by stage, whole, rounded outwards; None = not known.
    `guess`: the tables do not have this fern."""

    group: str
    green: bool
    apogamous: bool
    spans: dict[str, list[int] | None]
    guess: bool


def growing_of(taxon: str | None) -> Growing:
    """How a fern usually grows; one that is not in the tables is taken for a quick woodland fern.

    Spores of a genus "by species" count as green until known: looking early does no harm.
    """
    row = fern_of(taxon) or {}
    group = row.get("care_group", GUESSED_GROUP)
    return {
        "group": group,
        "green": row.get("green_spored") not in NOT_GREEN,
        "apogamous": row.get("apogamous") == "yes",
        "spans": {stage: _span(row if row else _tables().groups[group], stage) for stage in STAGES},
        "guess": not row,
    }


def sorus_of(taxon: str | None) -> str | None:
    """The type of sorus (`taxa/README.md`, sorus_type), or None."""
    return (fern_of(taxon) or {}).get("sorus_type")


def ripe_note_of(taxon: str | None) -> str | None:
    """What to look for when it is ripe, in one clause, or None."""
    return (fern_of(taxon) or {}).get("ripe_note")


def fern_of(taxon: str | None) -> Row | None:
    """Columns of its genus with those of its species over them; None when the genus is unknown.

    A species that is cared for unlike its genus has the usual spans of its own care group.
    """
    words = _words(taxon or "")
    if not words:
        return None
    tables = _tables()
    species = tables.species.get(" ".join(words[:2]), {})
    genus = tables.genera.get(str(species.get("genus", words[0])).lower())
    if genus is None:
        return None
    own: Row = species.get("overrides", {})
    spans = tables.groups[own["care_group"]] if "care_group" in own else {}
    row = {**genus, **spans, **species, **own}
    return {column: value for column, value in row.items() if value is not None}


class _Tables:
    """The tables by lower-case name; a species also by the other names it is known by."""

    def __init__(self) -> None:
        self.genera = {row["genus"].lower(): row for row in _rows("genera")}
        self.groups = {row["group"]: row for row in _rows("groups")}
        self.species: dict[str, Row] = {}
        for row in _rows("species"):
            for name in row.get("also_known_as", "").split("; "):
                self.species.setdefault(" ".join(_words(name)[:2]), row)
        for row in _rows("species"):
            self.species[" ".join(_words(row["name"])[:2])] = row


@cache
def _tables() -> _Tables:
    return _Tables()


@cache
def _rows(name: str) -> list[dict[str, Any]]:
    text = resources.files("sporeline.contract").joinpath(f"taxa/{name}.json").read_text("utf-8")
    rows: list[dict[str, Any]] = json.loads(text)
    return rows


def _words(taxon: str) -> list[str]:
    """Genus and epithet in small letters; crosses and qualifiers are passed over."""
    words = [word for word in taxon.lower().split() if word not in _PASSED_OVER]
    return [word.lstrip("×") for word in words]


def _span(row: Row, stage: str) -> list[int] | None:
    least, most = row.get(f"{stage}_min"), row.get(f"{stage}_max")
    return None if least is None or most is None else [math.floor(least), math.ceil(most)]
