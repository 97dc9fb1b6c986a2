"""What every backend test may ask for: a database of each kind, an app on it, signed-in phones.

`app`, `client`, `owner` come twice, on SQLite and on PostgreSQL; neither is ever left out.
"""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient
from phones import Phone, first_owner, services_of
from served import Served

from sporeline.app import create_app, upgrade
from sporeline.database import Database
from sporeline.settings import Settings
from tests.backend.postgres import Cluster, cluster

NOON = 1_777_723_200_000
"""2026-05-02T12:00:00Z, the wall clock at which a test begins."""


class Wall:
    """A wall clock that a test moves by hand."""

    def __init__(self, ms: int = NOON) -> None:
        self.ms = ms

    def __call__(self) -> int:
        return self.ms

    def forward(self, *, days: float = 0, hours: float = 0, seconds: float = 0) -> None:
        self.ms += round((days * 86_400 + hours * 3_600 + seconds) * 1000)


@pytest.fixture(scope="session")
def postgres_cluster() -> Iterator[Cluster]:
    with cluster() as running:
        yield running


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database with its tables, to be copied: faster than making them for each test."""
    path = tmp_path_factory.mktemp("template") / "sporeline.db"
    _with_tables(f"sqlite:///{path}")
    return path


@pytest.fixture(scope="session")
def postgres_template(postgres_cluster: Cluster) -> str:
    name = postgres_cluster.create()
    _with_tables(postgres_cluster.url(name))
    return name


@pytest.fixture(params=["sqlite", "postgresql"])
def database_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """A fresh database with its tables, of each kind in turn."""
    if request.param == "sqlite":
        path = tmp_path / "data" / "sporeline.db"
        path.parent.mkdir()
        shutil.copy(request.getfixturevalue("sqlite_template"), path)
        yield f"sqlite:///{path}"
        return
    running: Cluster = request.getfixturevalue("postgres_cluster")
    name = running.create(request.getfixturevalue("postgres_template"))
    yield running.url(name)
    running.drop(name)


@pytest.fixture
def settings(database_url: str, tmp_path: Path) -> Settings:
    return Settings(
        data_dir=tmp_path / "data", database_url=database_url, public_url="https://ferns.example"
    )


@pytest.fixture
def wall() -> Wall:
    return Wall()


@pytest.fixture
def app(settings: Settings, wall: Wall) -> Iterator[Flask]:
    """An app with an empty database and a wall clock moved by hand."""
    made = create_app(settings, wall=wall)
    yield made
    services_of(made).database.close()


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    """Requests without a session (with a cookie jar)."""
    return app.test_client()


@pytest.fixture
def owner(app: Flask) -> Phone:
    """The signed-in owner of a new logbook; `owner.brings("grower")` gives others."""
    return first_owner(app)


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Served]:
    """A real server process on SQLite, started, with one logbook; see `served.py`."""
    process = Served(tmp_path / "served")
    process.init()
    process.start()
    yield process
    process.end()


def _with_tables(url: str) -> None:
    database = Database(url)
    upgrade(database)
    database.close()
