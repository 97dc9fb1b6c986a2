"""One way to write, one way to read, the same on both databases."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from threading import Event, Thread

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError, IntegrityError

from sporeline import database as module
from sporeline.database import AlreadyOpen, Database, get_state, put_state
from sporeline.errors import Busy, CannotStart


@pytest.fixture
def database(database_url):
    opened = Database(database_url)
    yield opened
    opened.close()


@pytest.fixture
def sqlite(tmp_path):
    opened = Database(f"sqlite:///{tmp_path / 'x' / 'sporeline.db'}")
    yield opened
    opened.close()


def state(database, name="n"):
    with database.read() as c:
        return get_state(c, name)


def test_leaving_the_block_commits(database):
    with database.write() as c:
        put_state(c, "n", "1")
        put_state(c, "n", "2")
    assert state(database) == "2"


def test_an_exception_takes_all_of_it_back(database):
    with pytest.raises(ZeroDivisionError), database.write() as c:
        put_state(c, "n", "1")
        raise ZeroDivisionError
    assert state(database) is None


def test_reading_cannot_write(database):
    with pytest.raises(DBAPIError), database.read() as c:
        put_state(c, "n", "1")
    assert state(database) is None


def test_a_look_is_consistent_while_others_write(database):
    with database.read() as c:
        assert get_state(c, "n") is None
        with database.write() as other:
            put_state(other, "n", "1")
        assert get_state(c, "n") is None
    assert state(database) == "1"


def test_writers_at_once_lose_nothing(database):
    with database.write() as c:
        put_state(c, "n", "0")

    def add(_):
        with database.write() as c:
            query = "SELECT value FROM server_state WHERE name = 'n'"
            lock = "" if database.kind == "sqlite" else " FOR UPDATE"
            value = c.scalar(text(query + lock))
            put_state(c, "n", str(int(value) + 1))

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(add, range(80)))
    assert state(database) == "80"


def test_references_are_kept(database):
    with pytest.raises(IntegrityError), database.write() as c:
        c.execute(text("INSERT INTO member VALUES ('nobody', 'nowhere', 'owner', 1)"))


def test_kind_version_mode(database):
    described = database.describe()
    assert described["kind"] == database.kind
    assert described["version"][0].isdigit()


def test_sqlite_is_set_so_that_a_commit_survives_a_power_cut(sqlite):
    with sqlite.write() as c:
        found = {
            name: c.scalar(text(f"PRAGMA {name}"))
            for name in ("journal_mode", "synchronous", "foreign_keys", "query_only")
        }
    assert found == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "query_only": 0}
    with sqlite.read() as c:
        assert c.scalar(text("PRAGMA query_only")) == 1


def test_a_write_holds_its_lock_from_the_first_statement(sqlite):
    """BEGIN IMMEDIATE: a late lock would fail instead of waiting."""
    with sqlite.write(), sqlite._reader.connect() as other:
        other.exec_driver_sql("ROLLBACK")
        other.exec_driver_sql("PRAGMA busy_timeout=0")
        other.exec_driver_sql("PRAGMA query_only=OFF")
        with pytest.raises(DBAPIError, match="locked"):
            other.exec_driver_sql("BEGIN IMMEDIATE")


def test_there_is_one_writing_connection(sqlite):
    seen = set()

    def who(_):
        with sqlite.write() as c:
            seen.add(id(c.connection.driver_connection))

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(who, range(40)))
    assert len(seen) == 1


def test_who_waits_too_long_is_told(sqlite, monkeypatch):
    monkeypatch.setattr(module, "WAIT_SECONDS", 0.05)
    inside, done = Event(), Event()

    def hold():
        with sqlite.write():
            inside.set()
            done.wait(10)

    holder = Thread(target=hold)
    holder.start()
    inside.wait(10)
    try:
        with pytest.raises(Busy), sqlite.write():
            pass
    finally:
        done.set()
        holder.join()
    with sqlite.write() as c:
        assert c.scalar(text("SELECT 1")) == 1


def test_writing_inside_writing_is_a_mistake_and_not_a_deadlock(sqlite):
    with (
        pytest.raises(RuntimeError, match="pass the connection on"),
        sqlite.write(),
        sqlite.write(),
    ):
        pass


def test_a_second_opening_is_refused_until_the_first_is_closed(tmp_path):
    url = f"sqlite:///{tmp_path / 'sporeline.db'}"
    first = Database(url)
    with pytest.raises(AlreadyOpen):
        Database(url)
    first.close()
    Database(url).close()


def test_another_database_is_refused():
    with pytest.raises(CannotStart):
        Database("mysql://localhost/x")
