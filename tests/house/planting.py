"""A copy of the tree's checked part, in which a test plants what a checker must not let pass."""

from __future__ import annotations

import os
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LEFT_OUT = shutil.ignore_patterns("node_modules", "static", "dist", "__pycache__", ".*_cache")


@dataclass(frozen=True)
class Answer:
    code: int
    words: str


@dataclass(frozen=True)
class Copy:
    """The copy of a part of the tree; paths are relative to its top."""

    top: Path

    def plant(self, path: str, text: str) -> None:
        file = self.top / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, "utf-8")

    def uproot(self, path: str) -> None:
        file = self.top / path
        file.unlink()

    def run(self, *command: str, folder: str = ".") -> Answer:
        python_path = os.pathsep.join([str(self.top / "backend"), str(self.top)])
        done = subprocess.run(
            command,
            cwd=self.top / folder,
            env={**os.environ, "PYTHONPATH": python_path, "NO_COLOR": "1"},
            capture_output=True,
            text=True,
            check=False,
        )
        return Answer(done.returncode, done.stdout + done.stderr)

    def node(self, script: str, *arguments: str) -> Answer:
        """A program of pwa/node_modules, started in the copy's pwa/."""
        program = str(ROOT / "pwa/node_modules" / script)
        return self.run("node", program, *arguments, folder="pwa")


def copy_of(top: Path, *names: str) -> Copy:
    for name in names:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, top / name, ignore=LEFT_OUT)
        else:
            (top / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(source, top / name)
    return Copy(top)


def copy_of_phone(top: Path) -> Copy:
    """The phone's sources and tests, with the packages that are installed in the real tree."""
    copy = copy_of(top, "pwa", "tests/pwa", "tests/vectors")
    (top / "pwa/node_modules").symlink_to(ROOT / "pwa/node_modules")
    return copy
