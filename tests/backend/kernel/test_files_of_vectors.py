"""The vector files themselves: their shape, their ids, and that every rule has some."""

import json
from collections import Counter
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tests.backend.kernel.calls import CALLS

VECTORS = Path(__file__).parents[2] / "vectors"
PATHS = sorted(VECTORS.rglob("*.json"))
SHAPE = json.loads(Path(__file__).with_name("vectors.schema.json").read_text("utf-8"))


def read(path: Path) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(path.read_text("utf-8"))
    return told


KERNEL = [path for path in PATHS if read(path)["rule"] in CALLS]


@pytest.mark.parametrize("path", KERNEL, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_a_file_is_well_formed(path: Path) -> None:
    told = read(path)
    wrong = [f"{e.json_path}: {e.message}" for e in Draft202012Validator(SHAPE).iter_errors(told)]
    assert wrong == []
    assert told["count"] == len(told["vectors"])
    assert told["rule"].split(".")[0] == path.parent.name
    assert all(each["id"].startswith(f"{path.parent.name}-") for each in told["vectors"])
    assert {tag for each in told["vectors"] for tag in each["tags"]} == set(told["notes"])


def test_no_id_and_no_title_of_a_file_is_there_twice() -> None:
    told = [read(path) for path in PATHS]
    ids = Counter(each["id"] for file in told for each in file["vectors"])
    assert [name for name, times in ids.items() if times > 1] == []
    for file in (read(path) for path in KERNEL):
        titles = Counter(each["title"] for each in file["vectors"])
        assert [title for title, times in titles.items() if times > 1] == []


def test_every_call_has_vectors() -> None:
    assert {read(path)["rule"] for path in KERNEL} == set(CALLS)


def test_every_rule_of_the_shipped_plan_has_a_file_of_vectors() -> None:
    text = (
        resources.files("sporeline.contract").joinpath("plans/closed_box.json").read_text("utf-8")
    )
    rules = {rule["rule"] for rule in json.loads(text)["rules"]}
    assert rules <= {path.stem for path in (VECTORS / "due").glob("*.json")}
