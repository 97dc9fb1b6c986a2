"""Time and chance are given, so that what comes of them is known."""

from __future__ import annotations

import uuid
from collections import Counter

from sporeline.clocks import Clocks, instant
from sporeline.ids import Ids

MIDNIGHT = 1_777_680_000_000  # 2026-05-02T00:00:00Z


def test_the_calendar_turns_at_midnight_utc():
    assert Clocks(lambda: MIDNIGHT).calendar_today() == "2026-05-02"
    assert Clocks(lambda: MIDNIGHT - 1).calendar_today() == "2026-05-01"


def test_a_moved_calendar_goes_on_from_there():
    kept = []
    wall = [MIDNIGHT]
    clocks = Clocks(lambda: wall[0], demo=True, keep=kept.append)
    clocks.move_to("2026-08-18")
    assert (clocks.calendar_today(), clocks.shift_days, kept) == ("2026-08-18", 108, [108])
    wall[0] += 86_400_000
    assert clocks.calendar_today() == "2026-08-19"
    assert clocks.now() == "2026-05-03T00:00:00Z"


def test_an_instant_drops_parts_of_a_second():
    assert instant(MIDNIGHT + 999) == "2026-05-02T00:00:00Z"


def test_an_id_is_a_uuid_of_version_7():
    ids = Ids(lambda n: b"\xff" * n, lambda: MIDNIGHT)
    made = uuid.UUID(ids.new())
    assert (made.version, made.variant) == (7, uuid.RFC_4122)
    assert made.int >> 80 == MIDNIGHT
    assert str(uuid.UUID(Ids(lambda n: bytes(n), lambda: 0).new())) == (
        "00000000-0000-7000-8000-000000000000"
    )


def test_a_draw_is_fair():
    """Each byte once: every value must come out equally often, or not at all."""
    stream = iter(range(256))
    ids = Ids(lambda n: bytes([next(stream)]), lambda: 0)
    drawn = Counter(ids.draw(30) for _ in range(240))
    assert set(drawn) == set(range(30))
    assert set(drawn.values()) == {8}
    leftover = iter([255, 250, 239])
    assert Ids(lambda n: bytes([next(leftover)]), lambda: 0).draw(30) == 239 % 30
