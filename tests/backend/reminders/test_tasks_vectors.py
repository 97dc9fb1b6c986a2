"""Runs the shared vectors of who is asked what; twin of tests/pwa/records."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from sporeline.contract.kinds import KERNEL_KINDS
from sporeline.kernel.fold import fold
from sporeline.reminders.tasks import Bench, Rules, stated_by, subjects_in, tasks_on

KEPT = json.loads((Path(__file__).parents[2] / "vectors/tasks/kept.json").read_text("utf-8"))
VECTORS = KEPT["vectors"]


def test_the_file_is_whole() -> None:
    assert len(VECTORS) == KEPT["count"]


@pytest.mark.parametrize("vector", VECTORS, ids=[each["id"] for each in VECTORS])
def test_tasks(vector: dict[str, Any]) -> None:
    given = vector["given"]
    entries = given["entries"]
    ids = sorted({id for one in entries for id in (one["about"], *one.get("also", ()))})
    records = {id: fold(id, entries, KERNEL_KINDS) for id in ids}
    bench = Bench(records.get, stated_by(records.values()))
    subjects = subjects_in(bench, records.values())
    found = tasks_on(bench, subjects, Rules(given["plans"].get), given["for"], given["on"])
    assert [task["id"] for task in found] == vector["expect"]
