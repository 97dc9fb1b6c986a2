"""Brings what the checks need, and says so before it touches the machine.

Python packages and Node come by the locks into folders of this clone. Chromium and PostgreSQL are
programs of the machine: they are used where they are, installed where we are root, and asked for
in one line otherwise.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from deploy.environments import (
    ROOT,
    BringingFailed,
    Environment,
    Say,
    bring_node_modules,
    digest_of,
    make_environment,
    pip,
    stamp_of,
    write_stamp,
)

# A bare PATH does not make a program of the system disappear.
SYSTEM_PATH = os.pathsep.join(
    [os.environ.get("PATH", ""), "/usr/local/bin", "/usr/bin", "/bin", "/usr/sbin", "/sbin"]
)
CHROMIUM = ("chromium", "chromium-browser", "google-chrome")
MANAGERS = {
    "apt-get": {
        "install": ["apt-get", "install", "-y", "--no-install-recommends"],
        "chromium": "chromium",
        "postgresql": "postgresql",
    },
    "dnf": {
        "install": ["dnf", "install", "-y"],
        "chromium": "chromium",
        "postgresql": "postgresql-server",
    },
}


def find_program(*names: str) -> Path | None:
    for name in names:
        found = shutil.which(name, path=SYSTEM_PATH)
        if found:
            return Path(found)
    return None


def tests_environment(say: Say) -> Environment:
    """The environment of all parts but `outside`, with this clone installed in it."""
    environment = make_environment(ROOT / ".env-tests", ["requirements-dev.lock"], say)
    install_clone(environment)
    bring_node_modules(environment, say)
    return environment


def outside_environment(say: Say) -> Environment:
    """The environment of the checks against published standards and reference libraries."""
    environment = make_environment(ROOT / ".env-outside", ["requirements-outside.lock"], say)
    install_clone(environment)
    return environment


def install_clone(environment: Environment) -> None:
    """The command `sporeline` runs the sources of this clone."""
    wanted = digest_of([ROOT / "pyproject.toml"], str(ROOT))
    if stamp_of(environment, "clone") != wanted:
        pip(environment, "--no-index", "--no-deps", "--no-build-isolation", "--editable", str(ROOT))
        write_stamp(environment, "clone", wanted)


def bring_chromium(environment: Environment, say: Say) -> Path:
    """A Chromium of the machine, else one that Playwright keeps for itself."""
    found = find_program(*CHROMIUM)
    if not found and may_install():
        install("chromium", say)
        found = find_program(*CHROMIUM)
    found = found or playwright_chromium(environment)
    if not found:
        say("Downloading Playwright's own Chromium into this user's cache")
        command = [str(environment.python), "-m", "playwright", "install", "chromium"]
        subprocess.run(command, env=environment.variables(), check=False)
        found = playwright_chromium(environment)
    if not found:
        raise BringingFailed(f"There is no Chromium. Install it:\n  {install_line('chromium')}")
    return found


def playwright_chromium(environment: Environment) -> Path | None:
    ask = (
        "from playwright.sync_api import sync_playwright as start\n"
        "with start() as p: print(p.chromium.executable_path)"
    )
    command = [str(environment.python), "-c", ask]
    told = subprocess.run(
        command, env=environment.variables(), capture_output=True, text=True, check=False
    )
    path = Path(told.stdout.strip() or "nowhere")
    return path if path.exists() else None


def bring_postgresql(say: Say) -> Path:
    """The folder that holds `initdb` and `postgres`."""
    found = postgresql_programs()
    if not found and may_install():
        install("postgresql", say)
        found = postgresql_programs()
    if not found:
        raise BringingFailed(f"There is no PostgreSQL. Install it:\n  {install_line('postgresql')}")
    return found


def postgresql_programs() -> Path | None:
    beside = find_program("initdb")
    if beside and (beside.parent / "postgres").exists():
        return beside.parent
    places = [*Path("/usr/lib/postgresql").glob("*/bin"), *Path("/usr").glob("pgsql-*/bin")]
    fit = [place for place in places if (place / "initdb").exists()]
    return max(fit, key=lambda place: float(place.parent.name.removeprefix("pgsql-")), default=None)


def may_install() -> bool:
    return os.name == "posix" and os.geteuid() == 0 and manager() is not None


def manager() -> str | None:
    return next((name for name in MANAGERS if find_program(name)), None)


def install_line(what: str) -> str:
    """The one line that a person would type."""
    kind = MANAGERS[manager() or "apt-get"]
    return " ".join(["sudo", *kind["install"], str(kind[what])])


def install(what: str, say: Say) -> None:
    name = manager() or "apt-get"
    kind = MANAGERS[name]
    command = [*kind["install"], str(kind[what])]
    say(f"Installing {what} on this machine: {' '.join(command)}")
    env = {**os.environ, "PATH": SYSTEM_PATH, "DEBIAN_FRONTEND": "noninteractive"}
    if name == "apt-get":
        subprocess.run(["apt-get", "update", "-q"], env=env, stdout=sys.stderr, check=False)
    subprocess.run(command, env=env, stdin=subprocess.DEVNULL, stdout=sys.stderr, check=False)
