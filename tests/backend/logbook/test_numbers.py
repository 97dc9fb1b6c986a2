"""Blocks of running numbers: none twice, none lost to a lost answer."""

from __future__ import annotations

from typing import Any

from phones import Phone, services_of

from sporeline.logbook import renew_epoch
from tests.backend.pens import Pen, new_id

SERIES = {"box", "packet", "plant", "pots", "mix", "shelf"}


def blocks(answer: dict[str, Any], series: str = "box") -> list[tuple[int, int]]:
    return [(b["from"], b["to"]) for b in answer["numbers"] if b["series"] == series]


def left(series: str, left: int, **to: int) -> dict[str, Any]:
    return {"numbers": [{"series": series, "left": left, **to}]}


def test_a_phone_has_a_block_of_each_series_and_of_its_initials(owner: Phone) -> None:
    answer = Pen(owner).bring()
    assert {block["series"] for block in answer["numbers"]} == {*SERIES, "MV"}
    assert all((block["from"], block["to"]) == (1, 50) for block in answer["numbers"])
    assert Pen(owner).bring()["numbers"] == answer["numbers"]


def test_phones_have_no_number_in_common(owner: Phone) -> None:
    Pen(owner).bring()
    assert blocks(Pen(owner.further()).bring(), "MV") == [(51, 100)]
    other = Pen(owner.brings("grower"))
    answer = other.bring()
    assert blocks(answer) == [(101, 150)]
    assert blocks(answer, "IH") == [(1, 50)]


def test_a_further_block_when_few_are_left(owner: Phone) -> None:
    pen = Pen(owner)
    pen.bring()
    assert blocks(pen.bring(**left("box", 15, to=50))) == [(1, 50)]
    assert blocks(pen.bring(**left("box", 14, to=50))) == [(1, 50), (51, 100)]
    assert blocks(pen.bring(**left("packet", 14, to=50))) == [(1, 50), (51, 100)]


def test_a_lost_answer_costs_no_block(owner: Phone) -> None:
    pen = Pen(owner)
    pen.bring()
    first = pen.bring(pen.entry(), **left("box", 3, to=50))
    for unused in (3, 2, 0):
        assert blocks(pen.bring(**left("box", unused, to=50))) == blocks(first)
    assert blocks(pen.bring(**left("box", 0, to=100))) == [(1, 50), (51, 100), (101, 150)]


def test_a_phone_is_told_its_latest_blocks(owner: Phone) -> None:
    pen = Pen(owner)
    pen.bring()
    for to in (50, 100, 150, 200):
        answer = pen.bring(**left("box", 0, to=to))
    assert blocks(answer) == [(101, 150), (151, 200), (201, 250)]


def test_a_series_that_is_none_of_ours_gets_nothing(owner: Phone) -> None:
    answer = Pen(owner).bring(**left("kettle", 0))
    assert blocks(answer, "kettle") == []


def test_after_a_restore_some_numbers_are_passed_over(owner: Phone) -> None:
    pen = Pen(owner)
    pen.bring()
    with services_of(owner.app).database.write() as c:
        renew_epoch(c, owner.logbook, new_id())
    (further,) = blocks(Pen(owner.further()).bring())
    assert further == (1051, 1100)
