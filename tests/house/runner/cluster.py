"""A PostgreSQL that lives as long as one run of the tests and listens on this machine alone."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from deploy.environments import BringingFailed
from tests.house.runner.bringing import find_program

# The data are thrown away, so nothing waits for a disk here.
OPTIONS = (
    "-c listen_addresses=127.0.0.1 -c fsync=off -c full_page_writes=off -c max_connections=200"
)


Command = list[Path | str]


@contextmanager
def postgresql(programs: Path) -> Iterator[str]:
    """Start one; yields the SQLAlchemy URL of its superuser."""
    folder = Path(tempfile.mkdtemp(prefix="sporeline-postgresql-"))
    data = folder / "data"
    try:
        own(folder)
        initialise: Command = [
            programs / "initdb",
            "-D",
            data,
            "-U",
            "postgres",
            "-A",
            "trust",
            "-E",
            "UTF8",
        ]
        run_as_postgres(folder, initialise)
        port = free_port()
        options = f"{OPTIONS} -c port={port} -c unix_socket_directories={folder}"
        control: Command = [programs / "pg_ctl", "-D", data, "-l", folder / "log", "-w"]
        run_as_postgres(folder, [*control, "-o", options, "start"])
        try:
            yield f"postgresql+psycopg://postgres@127.0.0.1:{port}/postgres"
        finally:
            run_as_postgres(folder, [*control, "-m", "immediate", "stop"])
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def own(folder: Path) -> None:
    """PostgreSQL refuses to run as root: there its own user takes the folder."""
    if os.geteuid() == 0:
        shutil.chown(folder, "postgres")


def run_as_postgres(folder: Path, command: Command) -> None:
    switch: Command = [find_program("runuser") or "runuser", "-u", "postgres", "--"]
    whole = [*switch, *command] if os.geteuid() == 0 else command
    # Not through a pipe: the server that pg_ctl starts would hold it open.
    with open(os.devnull) as nothing, tempfile.TemporaryFile("w+") as told:
        done = subprocess.run(
            whole, cwd=folder, stdin=nothing, stdout=told, stderr=told, check=False
        )
        if done.returncode:
            told.seek(0)
            raise BringingFailed(f"PostgreSQL did not start:\n{told.read()}")


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port
