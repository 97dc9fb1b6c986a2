"""One way to write and one way to read, on SQLite and on PostgreSQL.

SQLite up to 3.51.2 can corrupt a WAL file that is written through two connections. So there is one
writing connection behind a lock, every reader is `query_only`, and a second process is refused.
`synchronous=FULL`: what was committed survives a power cut, so an answer may say so.
"""

from __future__ import annotations

import fcntl
import os
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO, Any

from sqlalchemy import (
    Column,
    Connection,
    Engine,
    MetaData,
    Table,
    Text,
    create_engine,
    event,
    make_url,
    select,
    text,
)
from sqlalchemy.exc import DBAPIError, OperationalError, TimeoutError

from sporeline.errors import Busy, CannotStart, StorageFull

metadata = MetaData()
"""Each room declares its tables on this, in its own `tables.py`."""

server_state = Table(
    "server_state",
    metadata,
    Column("name", Text, primary_key=True),
    Column("value", Text, nullable=False),
)
"""The few facts about the server itself that outlive a restart, such as the demo's calendar."""

WAIT_SECONDS = 15
"""How long a request waits for its turn to write before it is told that the server is busy."""

SQLITE_FIXED = (3, 51, 3)
"""From here on SQLite's WAL may be written through several connections."""


class AlreadyOpen(CannotStart):
    """Another process has this data folder open."""

    code = "already-open"
    fix = "Stop the server that uses this folder, or ask it: `sporeline invite` does so by itself."


class Database:
    """`with write() as c` is one transaction, `with read() as c` one consistent look.

    `c` is a SQLAlchemy Core `Connection`; leaving the block commits, an exception rolls back.
    """

    def __init__(self, url: str) -> None:
        """:raise AlreadyOpen: another process has the SQLite file open."""
        parsed = make_url(url)
        self.kind = parsed.get_backend_name()
        self._turn = threading.Lock()
        self._writer_thread: int | None = None
        self._lock_file: IO[str] | None = None
        if self.kind == "sqlite":
            path = Path(parsed.database or "").absolute()
            self._lock_file = _lock(path)
            self._writer, self._reader = _sqlite_engines(path)
        elif self.kind == "postgresql":
            self._writer = self._reader = _postgresql_engine(url)
        else:
            raise CannotStart(f"{self.kind} is not a database this server can use.")

    @contextmanager
    def write(self) -> Iterator[Connection]:
        """One transaction that may write. Not to be nested; no network inside.

        :raise Busy: no turn within `WAIT_SECONDS`. :raise StorageFull: no room; all rolled back.
        """
        with self._my_turn(), _named_errors(), self._writer.begin() as connection:
            yield connection

    @contextmanager
    def read(self) -> Iterator[Connection]:
        """One consistent look; a statement that writes is refused by the database."""
        options: dict[str, Any] = {}
        if self.kind == "postgresql":
            options = {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
        with (
            _named_errors(),
            self._reader.connect().execution_options(**options) as connection,
            connection.begin(),
        ):
            yield connection

    def describe(self) -> dict[str, str]:
        """Kind, version and mode, for the health check and the log at start."""
        if self.kind == "sqlite":
            version = sqlite3.sqlite_version
            known = "" if sqlite3.sqlite_version_info >= SQLITE_FIXED else ", needed before 3.51.3"
            mode = f"WAL, synchronous=FULL, one writing connection{known}"
        else:
            with self.read() as connection:
                version = str(connection.scalar(text("SHOW server_version")))
            mode = "pool, synchronous_commit=on"
        return {"kind": self.kind, "version": version, "mode": mode}

    def close(self) -> None:
        """Readers first: the last connection to close is the writer, which folds the WAL in."""
        self._reader.dispose()
        self._writer.dispose()
        if self._lock_file is not None:
            self._lock_file.close()
            self._lock_file = None

    @contextmanager
    def _my_turn(self) -> Iterator[None]:
        if self.kind != "sqlite":
            yield
            return
        me = threading.get_ident()
        if self._writer_thread == me:
            raise RuntimeError("write() inside write(): pass the connection on instead")
        if not self._turn.acquire(timeout=WAIT_SECONDS):
            raise Busy
        self._writer_thread = me
        try:
            yield
        finally:
            self._writer_thread = None
            self._turn.release()


def get_state(connection: Connection, name: str) -> str | None:
    """A fact about the server itself, or None."""
    query = select(server_state.c.value).where(server_state.c.name == name)
    return connection.scalar(query)


def put_state(connection: Connection, name: str, value: str) -> None:
    """Set a fact about the server itself."""
    same = server_state.c.name == name
    if not connection.execute(server_state.update().where(same).values(value=value)).rowcount:
        connection.execute(server_state.insert().values(name=name, value=value))


def _lock(path: Path) -> IO[str]:
    """Hold the file beside the database until this process ends, however it ends."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    file = open(path.with_name(f"{path.name}.lock"), "a")  # noqa: SIM115 (held until close)
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as held:
        file.close()
        raise AlreadyOpen(f"{path.parent} is in use by a server that runs.") from held
    return file


def _sqlite_engines(path: Path) -> tuple[Engine, Engine]:
    address = f"sqlite:///{path}"
    writer = create_engine(address, pool_size=1, max_overflow=0)
    reader = create_engine(address, pool_size=8, max_overflow=24, pool_timeout=WAIT_SECONDS)
    _prepare(writer, "IMMEDIATE", "synchronous=FULL", "journal_size_limit=67108864")
    _prepare(reader, "DEFERRED", "query_only=ON", "wal_autocheckpoint=0")
    with writer.begin() as connection:  # the file exists, and in WAL mode, before anyone reads
        connection.execute(text("SELECT 1"))
    with suppress(OSError):
        os.chmod(path, 0o600)
    return writer, reader


def _prepare(engine: Engine, begin: str, *pragmas: str) -> None:
    """Python's driver begins late and only before writes; here each transaction begins at once."""
    always = ("journal_mode=WAL", "busy_timeout=10000", "foreign_keys=ON", "trusted_schema=OFF")

    @event.listens_for(engine, "connect")
    def connected(connection: sqlite3.Connection, _: object) -> None:
        connection.isolation_level = None
        for pragma in (*always, *pragmas):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def began(connection: Connection) -> None:
        connection.exec_driver_sql(f"BEGIN {begin}")


def _postgresql_engine(url: str) -> Engine:
    options = (
        "-c statement_timeout=15000 -c lock_timeout=5000 "
        "-c idle_in_transaction_session_timeout=30000 -c synchronous_commit=on -c timezone=UTC"
    )
    return create_engine(
        make_url(url).set(drivername="postgresql+psycopg"),
        pool_size=8,
        max_overflow=8,
        pool_timeout=WAIT_SECONDS,
        pool_pre_ping=True,
        connect_args={"options": options},
    )


@contextmanager
def _named_errors() -> Iterator[None]:
    """A full disk and a database in use become errors that say so; others pass unchanged."""
    try:
        yield
    except TimeoutError as wrong:
        raise Busy from wrong
    except DBAPIError as wrong:
        name = _error_name(wrong)
        if name in _FULL:
            raise StorageFull from wrong
        if name in _IN_USE and isinstance(wrong, OperationalError):
            raise Busy from wrong
        raise


def _error_name(wrong: DBAPIError) -> str:
    """SQLite's own name of the error, or PostgreSQL's five-character code."""
    name = getattr(wrong.orig, "sqlite_errorname", None) or getattr(wrong.orig, "sqlstate", None)
    return str(name or "")


_FULL = {"SQLITE_FULL", "SQLITE_IOERR_WRITE", "SQLITE_IOERR_FSYNC", "53100"}
_IN_USE = {"SQLITE_BUSY", "SQLITE_BUSY_SNAPSHOT", "55P03", "57014", "40001", "40P01"}
