"""What can be wrong with an entry, as data: `code`, `where`, `message`, `fix`.

Codes and their sentences stand in `errors.json`; a test holds every code used to that list.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from importlib import resources
from typing import Any

Fault = dict[str, str]
"""`{"code", "where", "message", "fix"}`, as it stands on the wire."""

Report = Callable[[str, str, Mapping[str, object]], None]

SHOWN = 60
"""So many characters of a wrong value are said again."""


def _sentences() -> dict[str, dict[str, str]]:
    text = resources.files("sporeline.contract").joinpath("errors.json").read_text("utf-8")
    found: dict[str, dict[str, str]] = json.loads(text)
    return found


SENTENCES: Mapping[str, Mapping[str, str]] = _sentences()


def fault(code: str, where: str, **said: object) -> Fault:
    """One thing that is wrong. `said` fills the placeholders of its sentences."""
    sentence = SENTENCES[code]
    return {
        "code": code,
        "where": where,
        "message": sentence["message"].format(field=_field(where), **said),
        "fix": sentence["fix"].format(field=_field(where), **said),
    }


def shown(value: Any) -> str:
    """A wrong value as it is said again: short, and never a secret of the server's."""
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    printable = "".join(c if c.isprintable() else "�" for c in text[: SHOWN + 1])
    return printable if len(printable) <= SHOWN else printable[:SHOWN] + "…"


def _field(where: str) -> str:
    return where.rpartition(".")[2].replace("_", " ") or "entry"
