"""What stands where: the top level, the rooms' READMEs, and the size of files and functions."""

from __future__ import annotations

import ast
import subprocess
import tomllib
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

import pytest

from tests.house.planting import ROOT

TOP = {
    *("README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml"),
    *("backend", "pwa", "tests", "seed_scenario", "deploy"),
}
TESTS = {
    *("README.md", "run", "house", "vectors", "backend", "pwa", "outside", "trials"),
    *("browser", "speed"),
}
ROOMS = ("backend/sporeline", "pwa/src")
NAMES_THAT_SAY_NOTHING = {"utils", "util", "helpers", "helper", "common", "misc", "shared", "lib"}
SOURCES = {".py", ".ts", ".tsx", ".css"}
LINES_OF_A_FILE = 400
LINES_OF_A_FUNCTION = 40
ALLOWED = tomllib.loads(Path(__file__).with_name("allowed.toml").read_text("utf-8"))


def tracked() -> list[PurePosixPath]:
    """Every file that is committed or about to be."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard"]
    told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return [PurePosixPath(line) for line in told.splitlines() if (ROOT / line).is_file()]


FILES = tracked()
# What a program wrote is as long as it is, and a migration is as long as its tables.
WRITTEN = [
    file
    for file in FILES
    if file.suffix in SOURCES
    and not file.is_relative_to("pwa/src/contract")
    and "migrations" not in file.parts
]


def test_the_top_level_holds_the_agreed_names_and_no_others() -> None:
    assert {name for name in (file.parts[0] for file in FILES) if name[0] != "."} <= TOP


def test_the_folder_of_tests_holds_the_agreed_names_and_no_others() -> None:
    inside = {file.parts[1] for file in FILES if file.parts[0] == "tests"}
    assert {name for name in inside if not name.endswith(".py")} <= TESTS


def rooms() -> Iterator[PurePosixPath]:
    for place in ROOMS:
        inside = {file.relative_to(place).parts for file in FILES if file.is_relative_to(place)}
        yield from (PurePosixPath(place, room) for room in {p[0] for p in inside if len(p) > 1})


@pytest.mark.parametrize("room", sorted(rooms()), ids=str)
def test_each_room_says_what_it_is_for(room: PurePosixPath) -> None:
    readme = ROOT / room / "README.md"
    assert readme.exists(), f"{room}/README.md: what it is for, what it may not do, where to start"
    assert len(readme.read_text("utf-8").strip()) > 80


def test_no_name_says_nothing() -> None:
    names = {(part.split(".")[0], str(file)) for file in FILES for part in file.parts}
    assert [file for name, file in sorted(names) if name in NAMES_THAT_SAY_NOTHING] == []


def long_files() -> set[str]:
    return {
        str(file)
        for file in WRITTEN
        if len((ROOT / file).read_text("utf-8").splitlines()) > LINES_OF_A_FILE
    }


def long_functions() -> set[str]:
    """`file:function` of each Python function that does not fit on a screen, docstring aside."""
    found = set()
    for file in WRITTEN:
        if file.suffix != ".py":
            continue
        for node in ast.walk(ast.parse((ROOT / file).read_text("utf-8"))):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                body = node.body[1:] if ast.get_docstring(node) else node.body
                lines = (node.end_lineno or 0) - body[0].lineno + 1 if body else 0
                if lines > LINES_OF_A_FUNCTION:
                    found.add(f"{file}:{node.name}")
    return found


@pytest.mark.parametrize(
    ("kind", "found"), [("files", long_files()), ("functions", long_functions())]
)
def test_what_is_long_has_a_reason(kind: str, found: set[str]) -> None:
    assert found == set(ALLOWED[kind]), "give a reason in allowed.toml, or take an old one out"
    assert all(len(reason) > 20 for reason in ALLOWED[kind].values())
