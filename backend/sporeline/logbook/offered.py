"""An entry as a phone offers it, and the text under which it is kept."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sporeline.contract.faults import Fault, fault
from sporeline.contract.judging import BESIDE, LARGEST_ENTRY, is_entry
from sporeline.kernel.canonical import canonical
from sporeline.people import Session

DEEPEST = 64
"""Levels of lists and objects: far more than any note has, far fewer than Python can walk."""

_write = json.JSONEncoder(
    ensure_ascii=False, separators=(",", ":"), check_circular=False, allow_nan=False
).encode
_write_escaped = json.JSONEncoder(
    separators=(",", ":"), check_circular=False, allow_nan=False
).encode


@dataclass(slots=True)
class Offered:
    """`content`: the entry without what servers set beside it. `received`: as claimed, or None.

    `whole_text`: False when it holds half characters, which then stand escaped in `text`.
    """

    id: str
    content: dict[str, Any]
    text: str
    received: int | None
    whole_text: bool


@dataclass(frozen=True, slots=True)
class Refused:
    """What is never stored: why, which (by id where there is one) and at which place it stood."""

    index: int
    id: str | None
    error: Fault

    def on_the_wire(self) -> dict[str, Any]:
        """The line of the answer."""
        named = {} if self.id is None else {"id": self.id}
        return {**named, "index": self.index, **self.error}


def read_offered(index: int, value: Any, session: Session) -> Offered | Refused:
    """What is offered at that place of the request. Who wrote it is filled in where it is absent:
    then it is the session's own."""
    if not is_entry(value):
        return Refused(index, None, fault("not-an-entry", ""))
    content = {name: part for name, part in value.items() if name not in BESIDE}
    content.setdefault("by", session.person)
    content.setdefault("device", session.device)
    try:
        text, whole_text = written(content)
    except (ValueError, RecursionError):  # a number that is none, such as 1e999; no bottom
        return Refused(index, value["id"], fault("not-an-entry", ""))
    if _too_deep(content, text):
        return Refused(index, value["id"], fault("not-an-entry", ""))
    if _too_long(text):
        return Refused(index, value["id"], fault("too-large", ""))
    return Offered(value["id"], content, text, _claimed(value.get("received")), whole_text)


def written(content: Mapping[str, Any]) -> tuple[str, bool]:
    """JSON text of an entry, and whether UTF-8 can hold all of it unescaped."""
    text = _write(content)
    if text.isascii():
        return text, True
    try:
        text.encode()
    except UnicodeEncodeError:
        return _write_escaped(content), False
    return text, True


def same_content(offered: Offered, text: str) -> bool:
    """Whether it is the entry that is kept under `text`: equal parsed JSON."""
    return offered.text == text or canonical(offered.content) == canonical(json.loads(text))


def _too_long(text: str) -> bool:
    return len(text) * 4 > LARGEST_ENTRY and len(text.encode()) > LARGEST_ENTRY


def _claimed(received: Any) -> int | None:
    return received if type(received) is int and received > 0 else None


def _too_deep(content: Mapping[str, Any], text: str) -> bool:
    if text.count("[") + text.count("{") <= DEEPEST:
        return False
    level: list[Any] = [content]
    for _ in range(DEEPEST):
        level = [part for whole in level for part in _parts(whole)]
    return bool(level)


def _parts(value: Any) -> list[Any]:
    parts = value.values() if isinstance(value, dict) else value
    return [part for part in parts if isinstance(part, (dict, list))]
