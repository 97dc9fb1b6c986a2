"""What a runner's own report says: how many checks passed and how many failed."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree

MODULES_SEEN = re.compile(r"(\d+) modules, \d+ dependencies cruised")


@dataclass(frozen=True)
class Count:
    """A skipped check is a failed one: nothing here may pass by not being run."""

    passed: int
    failed: int

    def __add__(self, other: Count) -> Count:
        return Count(self.passed + other.passed, self.failed + other.failed)

    def closing(self, code: int) -> Count:
        """The same, but a runner that stopped in anger or ran nothing has failed."""
        unexplained = self.failed == 0 and (code != 0 or self.passed == 0)
        return Count(self.passed, self.failed + int(unexplained))


def count_exit(report: Path, output: str, code: int) -> Count:
    """A checker without a report of its own: one check."""
    return Count(int(code == 0), int(code != 0))


def count_modules(report: Path, output: str, code: int) -> Count:
    """dependency-cruiser; one that saw no module has checked nothing and failed."""
    seen = MODULES_SEEN.search(output)
    saw_something = seen is not None and int(seen[1]) > 0
    return count_exit(report, output, code if saw_something else 1)


def count_pytest(report: Path, output: str, code: int) -> Count:
    """pytest's JUnit file."""
    if not report.exists():
        return Count(0, 1)
    suites = ElementTree.parse(report).getroot().iter("testsuite")
    total = Count(0, 0)
    for suite in suites:
        bad = sum(int(suite.get(kind, "0")) for kind in ("failures", "errors", "skipped"))
        total += Count(int(suite.get("tests", "0")) - bad, bad)
    return total.closing(code)


def count_vitest(report: Path, output: str, code: int) -> Count:
    """Vitest's JSON file."""
    if not report.exists():
        return Count(0, 1)
    told = json.loads(report.read_text("utf-8"))
    passed = told["numPassedTests"]
    return Count(passed, told["numTotalTests"] - passed).closing(code)


def count_told(report: Path, output: str, code: int) -> Count:
    """The two numbers that a script of this folder left: passed, failed."""
    if not report.exists():
        return Count(0, 1)
    passed, failed = report.read_text("utf-8").split()
    return Count(int(passed), int(failed)).closing(code)
