"""An older copy of the server's files is put back: the phones notice and heal it."""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from served import Served

from .oracle import judge
from .phone import Phone, Refused


@pytest.mark.parametrize("others_write_first", [False, True])
def test_an_older_copy_is_healed_by_the_phones(
    served: Served,
    joined: Callable[[str], Phone],
    seed: int,
    tmp_path: Path,
    others_write_first: bool,
) -> None:
    dice = random.Random(seed)
    ada, bo, fresh = joined("ada"), joined("bo"), joined("fresh")
    records = [ada.new_id() for _ in range(5)]
    _write_and_exchange([ada, bo], records, dice)
    _copy(served, served.data_dir, tmp_path / "older")
    _write_and_exchange([ada, bo], records, dice)
    served.stop()
    shutil.rmtree(served.data_dir)
    shutil.copytree(tmp_path / "older", served.data_dir)
    served.start()
    if others_write_first:
        _overtake(fresh, ada, dice)
    with pytest.raises(Refused) as told:
        ada.take(ada.call("POST", ada.path("exchange"), ada.request()))
    assert (told.value.status, told.value.body["code"]) == (409, "history-diverged")
    assert judge([ada, bo, fresh] if others_write_first else [ada, bo], fresh) > 20


def _overtake(other: Phone, ada: Phone, dice: random.Random) -> None:
    """Another phone pushes the head past what ada knows, so that her number alone looks valid."""
    assert ada.cursor is not None
    for _ in range(ada.cursor["seq"] + 5):
        other.write(dice.choice([other.new_id()]))
    other.exchange()


def _write_and_exchange(phones: list[Phone], records: list[str], dice: random.Random) -> None:
    for phone in phones:
        for _ in range(dice.randrange(10, 60)):
            phone.write(dice.choice(records))
        phone.exchange()
    phones[0].exchange()


def _copy(served: Served, data: Path, to: Path) -> None:
    served.stop()
    shutil.copytree(data, to)
    served.start()
