"""The parts of `./tests/run` and the commands each is made of."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from deploy.environments import ROOT
from tests.house.runner.counting import (
    Count,
    count_exit,
    count_modules,
    count_pytest,
    count_told,
    count_vitest,
)

PWA = ROOT / "pwa"
Counter = Callable[[Path, str, int], Count]
TYPE_SETTINGS = (
    "tsconfig.json",
    "tsconfig.core.json",
    "tsconfig.worker.json",
    "tsconfig.tests.json",
)

DEMO = "tests/house/test_demo.py"
"""Builds and installs everything once more: a trial, and no lint."""


@dataclass(frozen=True)
class Step:
    """One command; words may hold `{report}`, the file that its counter reads."""

    title: str
    command: tuple[str, ...]
    count: Counter = count_exit
    folder: Path = ROOT


@dataclass(frozen=True)
class Part:
    """What is needed before it starts, then its steps in order."""

    name: str
    steps: tuple[Step, ...]
    needs: frozenset[str] = frozenset()
    alone: bool = False


def pytest(folder: str, *more: str) -> Step:
    command = ("python", "-m", "pytest", folder, "--junitxml={report}", *more)
    return Step(f"pytest {folder}", command, count_pytest)


def node(script: str, *arguments: str, count: Counter = count_exit, folder: Path = PWA) -> Step:
    """A program of pwa/node_modules, run by the environment's Node."""
    command = ("node", str(PWA / "node_modules" / script), *arguments)
    where = folder.relative_to(ROOT).as_posix()
    return Step(f"{Path(script).stem} {' '.join(arguments)} ({where})", command, count, folder)


def vitest(*filters: str) -> Step:
    arguments = ("run", *filters, "--reporter=default", "--reporter=json", "--outputFile={report}")
    return replace(node("vitest/vitest.mjs", *arguments, count=count_vitest), title="vitest")


BUILD = Part(
    "build",
    (
        node(
            "vite/bin/vite.js", "build", "--emptyOutDir", "--outDir", "../backend/sporeline/static"
        ),
    ),
)
VECTORS = Step(
    "the same vectors in both languages",
    ("python", "-m", "tests.house.runner.vectors", "{report}"),
    count_told,
)
LINT = Part(
    "lint",
    (
        Step("ruff check", ("ruff", "check", ".")),
        Step("ruff format", ("ruff", "format", "--check", ".")),
        Step("mypy", ("mypy",)),
        Step("import-linter", ("lint-imports", "--no-logo")),
        Step("contract drift", ("python", "-m", "sporeline.contract.generate", "--check")),
        node("@biomejs/biome/bin/biome", "ci", "--colors=off", "."),
        node("@biomejs/biome/bin/biome", "ci", "--colors=off", ".", folder=ROOT / "tests/pwa"),
        *(node("typescript/bin/tsc", "-p", name) for name in TYPE_SETTINGS),
        node(
            "dependency-cruiser/bin/dependency-cruiser.mjs",
            *("--config", "dependency-cruiser.cjs", "src"),
            count=count_modules,
        ),
        pytest("tests/house", f"--ignore={DEMO}"),
    ),
)

PARTS = (
    Part("browser", (pytest("tests/browser"),), frozenset({"app", "chromium"})),
    Part("trials", (pytest("tests/trials"), pytest(DEMO)), frozenset({"app", "postgresql"})),
    Part("backend", (pytest("tests/backend"),), frozenset({"app", "postgresql"})),
    Part("pwa", (vitest(),)),
    LINT,
    Part("outside", (pytest("tests/outside"),), frozenset({"outside"})),
    Part("vectors", (VECTORS,)),
    # Measured with nothing beside it.
    Part("speed", (pytest("tests/speed", "-s"),), frozenset({"app"}), alone=True),
)
