"""A throw-away PostgreSQL: one cluster for the test run, one database per test."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
from psycopg import sql
from sqlalchemy import URL, make_url

PROGRAMS = Path("/usr/lib/postgresql/15/bin")
MISSING = (
    "PostgreSQL 15 is needed for the tests: apt-get install --no-install-recommends postgresql-15"
)


GIVEN = "SPORELINE_TEST_POSTGRESQL"
"""A running throw-away server may be given: the SQLAlchemy address of a superuser on it."""


class Cluster:
    """A running server; every database made here gets a name of its own."""

    def __init__(self, address: URL) -> None:
        self._address = address.set(drivername="postgresql")
        self._count = 0

    def url(self, name: str) -> str:
        """SQLAlchemy address of one of its databases."""
        return self._address.set(database=name).render_as_string(hide_password=False)

    def create(self, template: str = "template1") -> str:
        """A new database as a copy of `template`; gives its name."""
        self._count += 1
        name = f"test_{os.getpid()}_{self._count}"
        self._do("CREATE DATABASE {} TEMPLATE {}", name, template)
        return name

    def drop(self, name: str) -> None:
        """Remove a database, whoever is still connected."""
        self._do("DROP DATABASE {} WITH (FORCE)", name)

    def _do(self, command: str, *names: str) -> None:
        with psycopg.connect(self.url("postgres"), autocommit=True) as connection:
            connection.execute(sql.SQL(command).format(*map(sql.Identifier, names)))


@contextmanager
def cluster() -> Iterator[Cluster]:
    """The server that was given, or one of our own, stopped and removed at the end.

    It must run as an ordinary account, so root hands it over to `postgres`.
    """
    if given := os.environ.get(GIVEN):
        yield Cluster(make_url(given))
        return
    if not (PROGRAMS / "initdb").exists():
        raise FileNotFoundError(MISSING)
    folder = Path(tempfile.mkdtemp(prefix="pg", dir="/tmp"))
    if os.geteuid() == 0:
        shutil.chown(folder, "postgres")
    try:
        _run(
            "initdb",
            "-D",
            folder / "data",
            "-A",
            "trust",
            "-U",
            "postgres",
            "-E",
            "UTF8",
            "--no-sync",
        )
        with _running(folder):
            yield Cluster(make_url(f"postgresql://postgres@/postgres?host={folder}"))
    finally:
        shutil.rmtree(folder, ignore_errors=True)


@contextmanager
def _running(folder: Path) -> Iterator[None]:
    """The server ends when its standard input does: also when the test run is killed."""
    # No fsync: this cluster is never to outlive the run. Durability is tested on a real server.
    options = f"-k {folder} -c listen_addresses='' -c fsync=off -c max_connections=200"
    start = f"{PROGRAMS}/postgres -D {folder}/data {options} >{folder}/log 2>&1 </dev/null &"
    script = f"{start} read _; kill -QUIT $!; wait $!; rm -rf {folder}"
    command = [*_as_postgres(), "sh", "-c", script]
    with subprocess.Popen(command, stdin=subprocess.PIPE, cwd="/tmp", start_new_session=True) as it:
        _run("pg_isready", "-h", folder, "-t", "1", tries=100)
        yield
        assert it.stdin is not None
        it.stdin.close()


def _as_postgres() -> list[str]:
    return ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []


def _run(program: str, *arguments: object, tries: int = 1) -> None:
    command = [*_as_postgres(), str(PROGRAMS / program), *map(str, arguments)]
    for _ in range(tries):
        done = subprocess.run(command, capture_output=True, text=True, cwd="/tmp", check=False)
        if done.returncode == 0:
            return
        time.sleep(0.1 if tries > 1 else 0)
    raise RuntimeError(f"{' '.join(command)}\n{done.stdout}{done.stderr}")
