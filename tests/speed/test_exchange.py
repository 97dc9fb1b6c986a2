"""Push, pull, bytes, one more, and the whole log offered again, beside the bare floor."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from served import Served

from tests.trials.phone import Phone

from .wire import Timed, Wire
from .workload import entries

COUNT = int(os.environ.get("SPEED_COUNT", "10000"))


@dataclass
class Figures:
    """One workload on one server: rates are entries a second, bytes are for each entry."""

    push: float
    pull: float
    again: float
    push_bytes: float
    pull_bytes: float
    more_ms: float
    more_bytes: float


@pytest.fixture
def floor(tmp_path: Path) -> Iterator[str]:
    """The floor, served as sporeline is: one process with threads."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    process = subprocess.Popen(
        [sys.executable, "-m", "gunicorn", "--worker-class", "gthread", "--threads", "8",
         "--bind", f"127.0.0.1:{port}", "tests.speed.floor:app"],
        env={**os.environ, "FLOOR_DB": str(tmp_path / "floor.db")},
        stderr=subprocess.DEVNULL,
    )  # fmt: skip
    url = f"http://127.0.0.1:{port}"
    _await(port)
    yield url
    process.terminate()
    process.wait()


def test_the_exchange_beside_its_floor(floor: str, tmp_path: Path) -> None:
    bare = _measure(lambda: Wire(floor, "/exchange"), "p", "d", COUNT // 10)
    with Served(tmp_path / "data") as served:
        many = _on(served, COUNT // 10)
    with Served(tmp_path / "one") as served:
        one = _on(served, 1)
    _print(bare, many, one)


def _on(served: Served, records: int) -> Figures:
    """Measure with two phones of one person: the first pushes, fresh wires pull."""
    phone = Phone(served.url, "ada", 1)
    phone.join(served.invite("owner"))

    def wire() -> Wire:
        return Wire(served.url, phone.path("exchange"), phone.token)

    return _measure(wire, phone.person, phone.device, records)


def _measure(wire: Callable[[], Wire], person: str, device: str, records: int) -> Figures:
    texts = entries(COUNT, records, person, device, seed=records)
    first = wire()
    with Timed() as push:
        verdicts = first.push(texts)
    assert len(verdicts) == COUNT
    assert {verdict.get("state", "stored") for verdict in verdicts} == {"stored"}
    fresh = wire()
    with Timed() as pull:
        assert fresh.pull() == COUNT
    again = wire()
    again.cursor = first.cursor
    with Timed() as replay:
        again.push(texts)
    assert wire().pull() == COUNT, "offered again, the log has new rows"
    more_ms, more_bytes = _one_more(first, fresh, entries(50, 1, person, device, seed=10**9))
    return Figures(
        push=COUNT / push.seconds,
        pull=COUNT / pull.seconds,
        again=COUNT / replay.seconds,
        push_bytes=(first.sent + first.heard) / COUNT,
        pull_bytes=(fresh.sent + fresh.heard) / COUNT,
        more_ms=more_ms,
        more_bytes=more_bytes,
    )


def _one_more(first: Wire, fresh: Wire, texts: list[str]) -> tuple[float, float]:
    """One entry pushed by one phone and pulled by the other: median ms, bytes."""
    fresh.pull()
    times = []
    before = first.sent + first.heard + fresh.sent + fresh.heard
    for text in texts:
        with Timed() as there_and_back:
            first.exchange([text])
            assert len(fresh.exchange([])["entries"]) == 1
        times.append(there_and_back.seconds * 1000)
    after = first.sent + first.heard + fresh.sent + fresh.heard
    return sorted(times)[len(times) // 2], (after - before) / len(texts)


def _print(bare: Figures, many: Figures, one: Figures) -> None:
    reach = Figures(8000, 20000, 20000, 120, 110, 10, 3000)
    print(f"\n{COUNT} entries; floor = bare Flask + SQLite FULL + gzip; W: {COUNT // 10} records")
    print(f"{'':>12} {'floor':>9} {'W':>9} {'W1':>9} {'W/floor':>8} {'reach':>7}")
    for name in Figures.__dataclass_fields__:
        row = [float(getattr(figures, name)) for figures in (bare, many, one, reach)]
        share = row[1] / row[0]
        print(
            f"{name:>12} {row[0]:>9.1f} {row[1]:>9.1f} {row[2]:>9.1f} {share:>8.2f} {row[3]:>7.0f}"
        )


def _await(port: int) -> None:
    until = time.monotonic() + 20
    while time.monotonic() < until:
        try:
            socket.create_connection(("127.0.0.1", port), 0.2).close()
            return
        except OSError:
            time.sleep(0.05)
    raise RuntimeError("the floor did not start")
