"""kill -9 at random moments of an exchange: nothing called saved is lost, nothing counted twice."""

from __future__ import annotations

import random
import threading
import time
from collections.abc import Callable

from served import Served

from .oracle import judge
from .phone import Phone, Refused, Unknown

KILLS = 12


def test_nothing_is_lost_when_the_server_is_killed(
    served: Served, joined: Callable[[str], Phone], seed: int
) -> None:
    dice = random.Random(seed)
    phones = [joined("ada"), joined("bo")]
    fresh = joined("fresh")
    records = [phones[0].new_id() for _ in range(8)]
    cut_short = 0
    for _ in range(KILLS):
        for phone in phones:
            for _ in range(dice.randrange(20, 120)):
                phone.write(dice.choice(records))
        cut_short += _exchange_until_killed(served, phones, dice.uniform(0, 0.15))
        served.start()
    saved = judge(phones, fresh)
    print(f"{KILLS} kills, {cut_short} exchanges cut short, {saved} entries, 0 lost, 0 doubled")
    assert cut_short > 0, "no exchange was ever cut short: the trial tried nothing"


def _exchange_until_killed(served: Served, phones: list[Phone], after: float) -> int:
    cut = []
    threads = [threading.Thread(target=_try, args=(phone, cut)) for phone in phones]
    for thread in threads:
        thread.start()
    time.sleep(after)
    served.kill9()
    for thread in threads:
        thread.join()
    return len(cut)


def _try(phone: Phone, cut: list[str]) -> None:
    try:
        phone.exchange()
    except (Unknown, Refused):
        cut.append(phone.name)
