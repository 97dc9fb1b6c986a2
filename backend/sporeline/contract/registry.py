"""The registry of kinds: what each kind and version of an entry is, and the schema of its data."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Literal, cast

from marshmallow import INCLUDE, Schema

from sporeline.contract.faults import Fault
from sporeline.contract.fields import Check, EntryField, check_fields

Nature = Literal["fact", "description", "strike"]
Rule = Callable[[Mapping[str, Any], list[Fault]], None]
"""What a schema asks beyond its single fields."""


class DataSchema(Schema):
    """The data of one kind and version. Fields that it does not know are kept."""

    class Meta:
        unknown = INCLUDE

    rule: Rule | None = None


@dataclass(frozen=True)
class Kind:
    """One kind and version. `state`, `sums`, `implies` as the kernel takes them."""

    name: str
    v: int
    nature: Nature
    schema: type[DataSchema]
    fields: Mapping[str, EntryField]
    check: Check
    rule: Rule | None
    state: Mapping[str, object] | None
    sums: Mapping[str, str] | None
    implies: str | None


KINDS: dict[tuple[str, int], Kind] = {}

SchemaClass = type[DataSchema]


def description(name: str, v: int = 1) -> Callable[[SchemaClass], SchemaClass]:
    """Declare a description: what was set, field by field."""
    return _declare(name, v, "description")


def fact(
    name: str,
    v: int = 1,
    *,
    state: Mapping[str, object] | None = None,
    sums: Mapping[str, str] | None = None,
    implies: str | None = None,
) -> Callable[[SchemaClass], SchemaClass]:
    """Declare a fact: what was seen or done.

    :param state: the state it sets: `name` (`name:{data[by]}` with `by`), to `value`, else to
        `data[field]`, else to the whole data.
    :param sums: sum by name to the field that adds to it.
    :param implies: type of the record it is about, where nothing describes that record.
    """
    return _declare(name, v, "fact", state, sums, implies)


def strike(name: str, v: int = 1) -> Callable[[SchemaClass], SchemaClass]:
    """Declare the crossing out of an entry."""
    return _declare(name, v, "strike")


def _declare(
    name: str,
    v: int,
    nature: Nature,
    state: Mapping[str, object] | None = None,
    sums: Mapping[str, str] | None = None,
    implies: str | None = None,
) -> Callable[[SchemaClass], SchemaClass]:
    def declare(schema: SchemaClass) -> SchemaClass:
        if (name, v) in KINDS:
            raise ValueError(f"{name} {v} is declared twice")
        declared = cast("Mapping[str, EntryField]", schema().fields)
        known = {field.data_key or name: field for name, field in declared.items()}
        check = check_fields(known)
        KINDS[name, v] = Kind(
            name, v, nature, schema, known, check, schema.rule, state, sums, implies
        )
        return schema

    return declare


def kernel_views() -> dict[str, dict[str, Any]]:
    """What the kernel must know of each kind; the newest version's word counts for all."""
    views: dict[str, dict[str, Any]] = {}
    for kind in sorted(KINDS.values(), key=lambda kind: (kind.name, kind.v)):
        versions = [*views.get(kind.name, {}).get("v", []), kind.v]
        view: dict[str, Any] = {"v": versions, "nature": kind.nature}
        for key in ("state", "sums", "implies"):
            if (said := getattr(kind, key)) is not None:
                view[key] = dict(said) if isinstance(said, Mapping) else said
        views[kind.name] = view
    return views
