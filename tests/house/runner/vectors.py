"""Runs the shared vectors in both languages and compares three sets of ids.

The ids in `tests/vectors`, those that pytest ran and those that Vitest ran must be the same set:
a twin that leaves one out has stopped being a twin. A test's name holds the id of its vector.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from xml.etree import ElementTree

from deploy.environments import ROOT
from tests.house.runner.counting import Count, count_pytest, count_vitest
from tests.house.runner.parts import PWA, vitest

ID = re.compile(r"[a-z]+(?:-[a-z]+)*-\d{4}")


def ids_in_files(folder: Path) -> list[str]:
    """Every id of every file; a file whose `count` is wrong is an error."""
    ids: list[str] = []
    for file in sorted(folder.rglob("*.json")):
        told = json.loads(file.read_text("utf-8"))
        here = [vector["id"] for vector in told["vectors"]]
        if told["count"] != len(here):
            raise SystemExit(f"{file}: count is {told['count']}, not {len(here)}")
        ids += here
    twice = [name for name, times in Counter(ids).items() if times > 1]
    if twice or not ids:
        raise SystemExit(f"no vectors at all, or an id used twice: {twice}")
    return ids


def ids_in(names: Iterable[str]) -> set[str]:
    return {found for name in names for found in ID.findall(name)}


def run_pytest(report: Path) -> tuple[Count, set[str]]:
    files = sorted(str(file) for file in (ROOT / "tests/backend").rglob("test_*vectors*.py"))
    command = ["python", "-m", "pytest", *files, f"--junitxml={report}"]
    code = subprocess.run(command, cwd=ROOT, check=False).returncode if files else 5
    cases = ElementTree.parse(report).getroot().iter("testcase") if report.exists() else ()
    return count_pytest(report, "", code), ids_in(case.get("name", "") for case in cases)


def run_vitest(report: Path) -> tuple[Count, set[str]]:
    command = [word.format(report=report) for word in vitest("vectors").command]
    code = subprocess.run(command, cwd=PWA, check=False).returncode
    told = json.loads(report.read_text("utf-8")) if report.exists() else {"testResults": []}
    names = (case["fullName"] for file in told["testResults"] for case in file["assertionResults"])
    return count_vitest(report, "", code), ids_in(names)


def main(told: Path) -> int:
    wanted = set(ids_in_files(ROOT / "tests/vectors"))
    with tempfile.TemporaryDirectory() as folder:
        python, by_pytest = run_pytest(Path(folder) / "pytest.xml")
        script, by_vitest = run_vitest(Path(folder) / "vitest.json")
    total = python + script
    for runner, ran in (("pytest", by_pytest), ("Vitest", by_vitest)):
        same = ran == wanted
        total += Count(int(same), int(not same))
        print(f"{runner} ran {len(ran & wanted)} of {len(wanted)} vectors")
        if not same:
            print(f"  not run: {sorted(wanted - ran)}\n  in no file: {sorted(ran - wanted)}")
    told.write_text(f"{total.passed} {total.failed}", "utf-8")
    print(f"{total.passed} passed, {total.failed} failed")
    return int(total.failed > 0)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
