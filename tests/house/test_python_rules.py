"""Every rule for the Python side, broken on purpose: the checker must go red."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest

from tests.house.planting import ROOT, Answer, Copy, copy_of

SETTINGS = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]
CONTRACTS = {contract["id"] for contract in SETTINGS["importlinter"]["contracts"]}
BANNED = SETTINGS["ruff"]["lint"]["flake8-tidy-imports"]["banned-api"]

# contract, file, what it holds
PLANTED = [
    ("rooms", "backend/sporeline/kernel/planted.py", "import sporeline.logbook\n"),
    ("rooms", "backend/sporeline/contract/planted.py", "import sporeline.kernel\n"),
    ("rooms", "backend/sporeline/utils/__init__.py", ""),
    ("core-is-pure", "backend/sporeline/kernel/planted.py", "import sqlalchemy\n"),
    ("core-is-pure", "backend/sporeline/contract/planted.py", "from flask import request\n"),
    ("figures-stay-out", "backend/sporeline/logbook/planted.py", "import scipy.stats\n"),
    ("front-door", "seed_scenario/planted.py", "from sporeline import logbook\n"),
]


@pytest.fixture
def tree(tmp_path: Path) -> Copy:
    return copy_of(tmp_path, "pyproject.toml", "backend", "seed_scenario")


def lint_imports(tree: Copy, *more: str) -> Answer:
    return tree.run("lint-imports", "--no-cache", "--no-logo", *more)


def test_the_tree_as_it_is_keeps_every_contract(tree: Copy) -> None:
    answer = lint_imports(tree)
    assert f"{len(CONTRACTS)} kept, 0 broken" in answer.words, answer.words


@pytest.mark.parametrize(("contract", "file", "text"), PLANTED)
def test_a_forbidden_import_breaks_its_contract(
    tree: Copy, contract: str, file: str, text: str
) -> None:
    tree.plant(file, text)
    answer = lint_imports(tree, "--contract", contract)
    assert answer.code == 1
    assert "0 kept, 1 broken" in answer.words or "not listed" in answer.words, answer.words


def test_a_knot_of_siblings_breaks_its_contract(tree: Copy) -> None:
    tree.plant("backend/sporeline/kernel/planted_a.py", "import sporeline.kernel.planted_b\n")
    tree.plant("backend/sporeline/kernel/planted_b.py", "import sporeline.kernel.planted_a\n")
    answer = lint_imports(tree, "--contract", "no-knots")
    assert "0 kept, 1 broken" in answer.words, answer.words


def test_every_contract_has_a_planted_violation() -> None:
    assert {contract for contract, _, _ in PLANTED} | {"no-knots"} == CONTRACTS


def ruff(tree: Copy, path: str) -> list[tuple[str, str]]:
    answer = tree.run("ruff", "check", "--no-cache", "--output-format=json", path)
    return [(found["code"], found["message"]) for found in json.loads(answer.words)]


def use_of(name: str) -> str:
    """A line that uses what is banned, written as code would write it."""
    head, _, rest = name.partition(".")
    return f"import {head}\n{head}.{rest or 'random'}\n"


@pytest.mark.parametrize("name", sorted(BANNED))
def test_what_is_given_may_not_be_taken(tmp_path: Path, name: str) -> None:
    tree = copy_of(tmp_path, "pyproject.toml")
    tree.plant("backend/sporeline/kernel/planted.py", use_of(name))
    messages = [text for code, text in ruff(tree, "backend") if code == "TID251"]
    assert any(text.endswith(BANNED[name]["msg"]) for text in messages), messages


@pytest.mark.parametrize("file", ["app.py", "cli.py", "settings.py"])
def test_the_wiring_may_take_them(tmp_path: Path, file: str) -> None:
    tree = copy_of(tmp_path, "pyproject.toml")
    tree.plant(f"backend/sporeline/{file}", "".join(map(use_of, sorted(BANNED))))
    assert "TID251" not in {code for code, _ in ruff(tree, "backend")}


def test_a_knotted_or_endless_function_is_red(tmp_path: Path) -> None:
    tree = copy_of(tmp_path, "pyproject.toml")
    branches = "".join(f"    if a == {n}:\n        return {n}\n" for n in range(12))
    statements = "".join(f"    a += {n}\n" for n in range(41))
    tree.plant("backend/sporeline/planted.py", f"def f(a):\n{branches}\ndef g(a):\n{statements}")
    assert {"C901", "PLR0915"} <= {code for code, _ in ruff(tree, "backend")}


def test_an_untyped_function_is_red(tmp_path: Path) -> None:
    tree = copy_of(tmp_path, "pyproject.toml")
    tree.plant("backend/sporeline/__init__.py", "")
    tree.plant("backend/sporeline/planted.py", "def f(a):\n    return a\n")
    answer = tree.run("mypy", "--cache-dir=/dev/null", "backend/sporeline/planted.py")
    assert answer.code == 1
    assert "Function is missing a type annotation" in answer.words
