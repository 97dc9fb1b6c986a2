"""Sentences as the screens say them, from the one catalogue."""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def _texts() -> dict[str, Any]:
    folder = files("sporeline.contract") / "texts"
    merged: dict[str, Any] = {}
    for file in folder.iterdir():
        if file.name.endswith(".json"):
            merged |= json.loads(file.read_text(encoding="utf-8"))
    return merged


def say(key: str, **values: object) -> str:
    """The sentence of a key, its placeholders filled. :raise KeyError: no such sentence."""
    text = _texts()[key]
    if isinstance(text, dict):
        text = text["one" if values.get("n") == 1 else "other"]
    return str(text).format(**values)


def as_shown(name: str) -> str:
    """A botanical name as screens show it: it never breaks at its hyphen (U+2060 after it)."""
    return name.replace("-", "-\u2060")
