"""The shapes that go into the fold and come out of it. Plain JSON, the same in both languages."""

from collections.abc import Mapping, Sequence
from typing import Any, Literal, NotRequired, TypedDict

Entry = Mapping[str, Any]
"""An entry as it stands on the wire, with `state` and `received` (ms; absent or null: not yet
received by a server) beside it. An entry that is not held has passed the checks of its envelope
and schema; a held one may have any shape beyond a readable `id`, `kind` and `about`."""


class StateRule(TypedDict):
    """Which state a fact sets: `name`, or `name:{data[by]}`; to `value`, else `data[field]`,
    else the whole `data`."""

    name: str
    by: NotRequired[str]
    field: NotRequired[str]
    value: NotRequired[Any]


class KindView(TypedDict):
    """What the kernel must know of a kind; made from the registry of kinds."""

    v: Sequence[int]
    nature: Literal["fact", "description", "strike"]
    state: NotRequired[StateRule]
    sums: NotRequired[Mapping[str, str]]
    implies: NotRequired[str]


Kinds = Mapping[str, KindView]


class Dated(TypedDict):
    """`to`: the last day of a vague date (`span`); what waits is counted from it."""

    entry: str
    at: str
    to: NotRequired[str]


class State(TypedDict):
    """`at`: when it was last seen so. `since`: `at` of the first fact of the present run."""

    value: Any
    at: str
    since: str
    entry: str


class Record(TypedDict):
    """What all entries about a record amount to. Every entry filed here is in exactly one of
    `facts`, `struck`, `held`, `unknown`, or is a live description or strike."""

    id: str
    type: str | None
    fields: dict[str, dict[str, Any]]
    heads: dict[str, dict[str, list[str]]]
    questions: list[dict[str, Any]]
    facts: list[str]
    struck: list[str]
    held: list[str]
    unknown: list[str]
    states: dict[str, State]
    first: dict[str, Dated]
    last: dict[str, Dated]
    sums: dict[str, int]
