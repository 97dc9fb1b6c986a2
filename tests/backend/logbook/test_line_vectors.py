"""Runs the shared vectors of the line; twin of tests/pwa/records."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from sporeline.logbook.line import label_name, name_of

LINE = Path(__file__).parents[2] / "vectors" / "line"
NAMES = json.loads((LINE / "names.json").read_text("utf-8"))["vectors"]
LABELS = json.loads((LINE / "labels.json").read_text("utf-8"))["vectors"]


@pytest.mark.parametrize("vector", NAMES, ids=[each["id"] for each in NAMES])
def test_name(vector: dict[str, Any]) -> None:
    records = {each["id"]: each for each in vector["given"]["records"]}

    def inside(box: str) -> list[dict[str, Any]]:
        described = "sowing.described"
        return [r for r in records.values() if r["fields"].get(described, {}).get("box") == box]

    assert name_of(records[vector["given"]["of"]], records.get, inside) == vector["expect"]


@pytest.mark.parametrize("vector", LABELS, ids=[each["id"] for each in LABELS])
def test_label(vector: dict[str, Any]) -> None:
    assert label_name(vector["given"]["record"]) == vector["expect"]
