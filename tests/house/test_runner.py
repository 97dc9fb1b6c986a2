"""The runner's own promises: nothing passes by not being run, nothing of anybody's is thrown away."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from deploy.environments import BringingFailed, modules_match
from deploy.played import MARK, clear, read_played
from tests.house.planting import ROOT
from tests.house.runner.__main__ import conclude, read_arguments
from tests.house.runner.counting import (
    Count,
    count_exit,
    count_modules,
    count_pytest,
    count_told,
    count_vitest,
)
from tests.house.runner.vectors import ids_in, ids_in_files

SUITE = '<testsuites><testsuite tests="{}" failures="{}" errors="{}" skipped="{}"/></testsuites>'


@pytest.mark.parametrize(
    ("suite", "code", "count"),
    [
        ((7, 0, 0, 0), 0, Count(7, 0)),
        ((7, 1, 1, 0), 1, Count(5, 2)),
        ((7, 0, 0, 2), 0, Count(5, 2)),  # a skipped test is a failed one
        ((0, 0, 0, 0), 5, Count(0, 1)),
        ((0, 0, 0, 0), 0, Count(0, 1)),  # ran nothing
        ((7, 0, 0, 0), 3, Count(7, 1)),  # stopped in anger
    ],
)
def test_counts_of_pytest(tmp_path: Path, suite: tuple[int, ...], code: int, count: Count) -> None:
    report = tmp_path / "report"
    report.write_text(SUITE.format(*suite), "utf-8")
    assert count_pytest(report, "", code) == count


@pytest.mark.parametrize(
    ("passed", "total", "code", "count"),
    [
        (4, 4, 0, Count(4, 0)),
        (3, 4, 0, Count(3, 1)),
        (0, 0, 0, Count(0, 1)),
        (4, 4, 1, Count(4, 1)),
    ],
)
def test_counts_of_vitest(tmp_path: Path, passed: int, total: int, code: int, count: Count) -> None:
    report = tmp_path / "report"
    report.write_text(json.dumps({"numPassedTests": passed, "numTotalTests": total}), "utf-8")
    assert count_vitest(report, "", code) == count


@pytest.mark.parametrize("counter", [count_pytest, count_vitest, count_told])
def test_a_runner_without_a_report_has_failed(tmp_path: Path, counter: object) -> None:
    assert callable(counter)
    assert counter(tmp_path / "none", "", 0) == Count(0, 1)


def test_a_checker_counts_as_one() -> None:
    assert count_exit(Path(), "", 0) == Count(1, 0)
    assert count_exit(Path(), "", 2) == Count(0, 1)


@pytest.mark.parametrize(
    ("words", "count"),
    [
        ("no dependency violations found (62 modules, 105 dependencies cruised)", Count(1, 0)),
        ("no dependency violations found (0 modules, 0 dependencies cruised)", Count(0, 1)),
        ("", Count(0, 1)),
    ],
)
def test_a_cruiser_that_saw_nothing_has_failed(words: str, count: Count) -> None:
    assert count_modules(Path(), words, 0) == count


@pytest.mark.parametrize(
    ("counts", "code"),
    [
        ({"lint": Count(3, 0), "pwa": Count(1, 0)}, 0),
        ({"lint": Count(3, 0), "pwa": Count(1, 1)}, 1),
        ({"lint": Count(3, 0), "pwa": Count(0, 0)}, 1),
    ],
)
def test_one_failed_or_empty_part_fails_the_run(
    capsys: pytest.CaptureFixture[str], counts: dict[str, Count], code: int
) -> None:
    assert conclude(counts, 1.0) == code
    assert "lint: 3 passed, 0 failed" in capsys.readouterr().out.splitlines()


def test_an_unknown_part_is_refused() -> None:
    with pytest.raises(SystemExit):
        read_arguments(["lint", "lnit"])


def write_vectors(folder: Path, count: int, *ids: str) -> None:
    told = {"count": count, "vectors": [{"id": name} for name in ids]}
    (folder / "one.json").write_text(json.dumps(told), "utf-8")


def test_the_ids_of_vectors_are_read(tmp_path: Path) -> None:
    write_vectors(tmp_path, 2, "fold-0001", "fold-0002")
    assert ids_in_files(tmp_path) == ["fold-0001", "fold-0002"]
    names = ["test_fold[fold-0001]", "fold fold-0002 equal clocks", "none of it"]
    assert ids_in(names) == {"fold-0001", "fold-0002"}


@pytest.mark.parametrize("ids", [(), ("fold-0001",), ("fold-0001", "fold-0001")])
def test_vectors_that_are_missing_miscounted_or_doubled_are_refused(
    tmp_path: Path, ids: tuple[str, ...]
) -> None:
    write_vectors(tmp_path, 2 if ids else 0, *ids)
    with pytest.raises(SystemExit):
        ids_in_files(tmp_path)


def lock_of(folder: Path, **versions: str) -> None:
    packages = {f"node_modules/{name}": {"integrity": sha} for name, sha in versions.items()}
    (folder / "package-lock.json").write_text(json.dumps({"packages": {"": {}, **packages}}))


@pytest.mark.parametrize(
    ("there", "same"),
    [({"a": "1", "b": "2"}, True), ({"a": "1"}, False), ({"a": "1", "b": "3"}, False),
     ({"a": "1", "b": "2", "c": "3"}, False)],
)  # fmt: skip
def test_node_modules_are_taken_only_when_they_are_those_of_the_lock(
    tmp_path: Path, there: dict[str, str], same: bool
) -> None:
    lock_of(tmp_path, a="1", b="2")
    assert not modules_match(tmp_path)
    packages = {f"node_modules/{name}": {"integrity": sha} for name, sha in there.items()}
    (tmp_path / "node_modules").mkdir()
    record = tmp_path / "node_modules/.package-lock.json"
    record.write_text(json.dumps({"packages": packages}))
    assert modules_match(tmp_path) is same


def test_the_demo_never_empties_a_folder_that_it_did_not_make(tmp_path: Path) -> None:
    (tmp_path / "photo").write_text("mine")
    with pytest.raises(BringingFailed, match="stays as it is"):
        clear(tmp_path)
    assert (tmp_path / "photo").read_text() == "mine"


def test_the_demo_makes_its_own_folder_anew(tmp_path: Path) -> None:
    clear(tmp_path / "demo")
    (tmp_path / "demo/sporeline.db").write_text("half a story")
    assert read_played(tmp_path / "demo", None) is None
    clear(tmp_path / "demo")
    assert [file.name for file in (tmp_path / "demo").iterdir()] == [MARK]


def test_a_played_story_is_kept_unless_another_day_is_asked_for(tmp_path: Path) -> None:
    told = {"day": "2026-08-18", "logbook": "x", "persons": ["a", "b"]}
    (tmp_path / MARK).write_text(json.dumps(told))
    for today in (None, "2026-08-18"):
        played = read_played(tmp_path, today)
        assert played is not None and played.persons == ["a", "b"]
    with pytest.raises(BringingFailed, match="--fresh"):
        read_played(tmp_path, "2026-09-01")


@pytest.mark.parametrize("file", ["tests/run", ".ci/run", "deploy/demo", "deploy/with-python"])
def test_commands_can_be_run(file: str) -> None:
    path = ROOT / file
    assert path.stat().st_mode & 0o111 and path.read_text().startswith("#!/bin/sh\n")
