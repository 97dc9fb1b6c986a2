"""Requests cut at any byte, answers cut at any byte, requests sent twice, at once, and much later."""

from __future__ import annotations

import random
import threading
from collections.abc import Callable

import pytest

from .oracle import judge
from .phone import Phone, Refused, Unknown


def test_a_push_cut_at_each_byte_stores_nothing_and_is_sent_again(
    joined: Callable[[str], Phone], seed: int
) -> None:
    phone, fresh = joined("ada"), joined("fresh")
    record = phone.new_id()
    for _ in range(3):
        phone.write(record)
    raw = phone.raw("POST", phone.path("exchange"), phone.request())
    for cut in range(0, len(raw), 7):
        with pytest.raises((Unknown, Refused)):
            phone.answer_to(raw, cut=cut)
    fresh.exchange()
    assert not fresh.saved, "a torn push was stored in part"
    assert judge([phone], fresh) == 3


def test_an_answer_cut_at_each_byte_counts_nothing_twice(
    joined: Callable[[str], Phone], seed: int
) -> None:
    phone, fresh = joined("ada"), joined("fresh")
    record = phone.new_id()
    for hear in range(0, 1200, 31):
        phone.write(record)
        raw = phone.raw("POST", phone.path("exchange"), phone.request())
        with pytest.raises(Unknown):
            phone.answer_to(raw, hear=hear)
    assert judge([phone], fresh) == len(range(0, 1200, 31))


def test_doubled_reordered_and_replayed_requests(joined: Callable[[str], Phone], seed: int) -> None:
    dice = random.Random(seed)
    phones, fresh = [joined("ada"), joined("bo")], joined("fresh")
    records = [phones[0].new_id() for _ in range(4)]
    old: list[tuple[Phone, bytes]] = []
    for _ in range(15):
        for phone in phones:
            for _ in range(dice.randrange(1, 20)):
                phone.write(dice.choice(records))
            raw = phone.raw("POST", phone.path("exchange"), phone.request())
            old += [(phone, raw)] * dice.randrange(1, 4)
        dice.shuffle(old)
        _at_once(old[: dice.randrange(1, 6)])
    _at_once(old[:40])
    assert judge(phones, fresh) > 15


def _at_once(requests: list[tuple[Phone, bytes]]) -> None:
    threads = [threading.Thread(target=phone.answer_to, args=(raw,)) for phone, raw in requests]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
