"""Phones that meet the server in any order, twice, or without hearing its answer end equal."""

from __future__ import annotations

import itertools
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from phones import Phone, first_owner, services_of

from sporeline.app import create_app
from sporeline.contract.kinds import KERNEL_KINDS
from sporeline.kernel.fold import fold
from sporeline.logbook import read_records, rebuild
from sporeline.settings import Settings
from tests.backend.conftest import NOON
from tests.backend.pens import Pen, content, new_id

Json = dict[str, Any]
PHONES = 3
steps = st.lists(
    st.tuples(
        st.sampled_from(["write", "describe", "strike", "exchange", "unheard", "twice", "all"]),
        st.integers(0, PHONES - 1),
        st.integers(0, 5),
    ),
    max_size=40,
)


class Simulated:
    """A phone: what it has, which of it the server has taken, and where it stands."""

    def __init__(self, phone: Phone, records: list[str], offset_ms: int) -> None:
        self.pen = Pen(phone)
        self.records = records
        self.ms = NOON + offset_ms
        self.entries: dict[str, Json] = {}
        self.beside: dict[str, Json] = {}
        self.cursor: Json | None = None

    def write(self, pick: int, kind: str, data: Json, **more: Any) -> None:
        self.ms += 1
        about = self.records[pick % len(self.records)]
        made = f"{self.ms:012x}-00000000-{self.pen.node}"
        entry = self.pen.entry(kind, data, about=about, made=made, **more)
        self.entries[entry["id"]] = entry

    def describe(self, pick: int) -> None:
        about = self.records[pick % len(self.records)]
        heads = self.folded(about)["heads"].get("record.described", {}).get("name", [])
        name = {"name": f"name {self.ms} of {self.pen.node}"}
        self.write(pick, "record.described", name, seen={"name": heads})

    def strike(self, pick: int) -> None:
        if self.entries:
            struck = list(self.entries.values())[pick % len(self.entries)]
            at = self.records.index(struck["about"])
            self.write(at, "entry.struck", {"entry": struck["id"], "reason": "wrong"})

    def exchange(self, *, heard: bool = True, everything: bool = False) -> None:
        waiting = [each for id, each in self.entries.items() if id not in self.beside]
        offered = [{**each, **self.kept(id)} for id, each in self.entries.items()]
        answer = self.pen.bring(*(offered if everything else waiting), cursor=self.cursor, limit=7)
        assert answer["refused"] == []
        if heard:
            self.take(answer)

    def kept(self, id: str) -> Json:
        beside = self.beside.get(id)
        return {} if beside is None else {"received": beside["received"]}

    def take(self, answer: Json) -> None:
        for line in answer["stored"]:
            self.beside[line["id"]] = line
        for line in answer["entries"]:
            known = self.entries.setdefault(line["id"], content(line))
            assert known == content(line), "an entry was altered"
            self.beside[line["id"]] = line
        self.cursor = answer["cursor"]
        self.more = answer["more"]

    def settle(self) -> None:
        self.more = True
        while self.more or len(self.beside) < len(self.entries):
            self.exchange()

    def folded(self, record: str) -> Any:
        lines = [
            each | {name: self.beside[id][name] for name in ("state", "received")}
            if id in self.beside
            else each
            for id, each in self.entries.items()
        ]
        return fold(record, lines, KERNEL_KINDS)


@pytest.fixture(scope="module")
def sqlite_app() -> Iterator[Flask]:
    """One app for all examples: each has a logbook of its own in it."""
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder)
        url = f"sqlite:///{data}/sporeline.db"
        app = create_app(Settings(data, url, "https://ferns.example"), wall=lambda: NOON)
        yield app
        services_of(app).database.close()


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(steps=steps, offsets=st.lists(st.sampled_from([0, 262_000, 31_536_000_000]), min_size=3))
def test_all_phones_end_with_the_same_records(
    sqlite_app: Flask, steps: list[tuple[str, int, int]], offsets: list[int]
) -> None:
    owner = first_owner(sqlite_app)
    records = [new_id() for _ in range(3)]
    hands = [owner, owner.further(), owner.brings("grower")]
    phones = [Simulated(hand, records, ms) for hand, ms in zip(hands, offsets, strict=False)]
    for what, who, pick in steps:
        _do(phones[who], what, pick)
    for phone in (*phones, *phones):
        phone.settle()
    _judge(owner, phones, records)


def _do(phone: Simulated, what: str, pick: int) -> None:
    if what == "write":
        ripeness = ["none", "young", "turning", "ripe", "spent", "brownish"][pick]
        phone.write(pick, "sori.seen", {"ripeness": ripeness})
    elif what == "describe":
        phone.describe(pick)
    elif what == "strike":
        phone.strike(pick)
    elif what == "unheard":
        phone.exchange(heard=False)
    else:
        phone.exchange(everything=what == "all")
        if what == "twice":
            phone.exchange()


def _judge(owner: Phone, phones: list[Simulated], records: list[str]) -> None:
    for one, other in itertools.pairwise(phones):
        assert one.entries == other.entries
    ids = list(phones[0].entries)
    assert Pen(owner).digest(*ids)["lacks"] == []
    folded = [[phone.folded(record) for record in records] for phone in phones]
    assert folded[0] == folded[1] == folded[2]
    with services_of(owner.app).database.read() as c:
        kept = read_records(c, owner.logbook)
    by_id = {record: each for record, each in zip(records, folded[0], strict=True)}
    for record in kept:
        assert record == {name: by_id[record["id"]][name] for name in record}
    with services_of(owner.app).database.write() as c:
        rebuild(c, owner.logbook)
    with services_of(owner.app).database.read() as c:
        assert read_records(c, owner.logbook) == kept
