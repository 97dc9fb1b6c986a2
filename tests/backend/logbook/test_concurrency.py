"""Many at once: no reader ever misses a line, nobody is told that the database is locked."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

from flask import Flask
from phones import Phone, first_owner

from tests.backend.pens import Pen


def at_once(*works: Callable[[], None]) -> None:
    """Run all in threads; what one raises is raised here."""
    with ThreadPoolExecutor(len(works)) as pool:
        for running in [pool.submit(work) for work in works]:
            running.result()


def test_a_reader_that_follows_eight_writers_misses_nothing(app: Flask, owner: Phone) -> None:
    reader, read, done = Pen(owner), [], threading.Event()
    pens = [Pen(owner.further()) for _ in range(8)]

    def write(pen: Pen) -> Callable[[], None]:
        def run() -> None:
            for _ in range(12):
                answer = pen.bring(*(pen.entry() for _ in range(3)))
                assert [line["state"] for line in answer["stored"]] == ["stored"] * 3

        return run

    def write_all() -> None:
        at_once(*map(write, pens))
        done.set()

    def follow() -> None:
        cursor, more, last = None, True, False
        while more or not last:
            last = done.is_set()
            answer = reader.bring(cursor=cursor, high=cursor)
            read.extend(line["seq"] for line in answer["entries"])
            cursor, more = answer["cursor"], answer["more"]

    at_once(write_all, follow)
    assert read == list(range(1, 8 * 12 * 3 + 1))


def test_twenty_phones_with_a_backlog_each(app: Flask, owner: Phone) -> None:
    pens = [Pen(owner.further()) for _ in range(20)]
    acknowledged: list[dict[str, Any]] = []

    def push(pen: Pen) -> Callable[[], None]:
        entries = [pen.entry() for _ in range(200)]

        def run() -> None:
            for start in range(0, 200, 50):
                acknowledged.extend(pen.bring(*entries[start : start + 50])["stored"])

        return run

    at_once(*map(push, pens))
    assert len(acknowledged) == 4000
    assert sorted(line["seq"] for line in acknowledged) == list(range(1, 4001))
    assert len(Pen(owner).pull()) == 4000


def test_one_entry_brought_by_many_at_once_is_stored_once(app: Flask, owner: Phone) -> None:
    pens = [Pen(owner.further()) for _ in range(8)]
    entry = pens[0].entry()
    verdicts: list[dict[str, Any]] = []
    at_once(*(lambda pen=pen: verdicts.extend(pen.bring(entry)["stored"]) for pen in pens))
    assert {line["seq"] for line in verdicts} == {1}
    assert sum("again" not in line for line in verdicts) == 1


def test_logbooks_begun_at_once_have_one_row_each(app: Flask) -> None:
    owners = [first_owner(app) for _ in range(4)]
    epochs: list[str] = []

    def begin(phone: Phone) -> Callable[[], None]:
        return lambda: epochs.append(Pen(phone).bring()["cursor"]["epoch"])

    at_once(*(begin(phone) for phone in owners for _ in range(3)))
    assert len(set(epochs)) == 4


def test_blocks_asked_for_at_once_have_no_number_in_common(app: Flask, owner: Phone) -> None:
    pens = [Pen(owner.further()) for _ in range(8)]
    given: list[tuple[str, int]] = []

    def ask(pen: Pen) -> Callable[[], None]:
        return lambda: given.extend((b["series"], b["from"]) for b in pen.bring()["numbers"])

    at_once(*map(ask, pens))
    assert len(given) == len(set(given)) == 8 * 7
