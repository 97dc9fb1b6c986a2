"""Stamps: what is made later, or after something was seen, sorts later."""

from hypothesis import given
from hypothesis import strategies as st

from sporeline.kernel.clock import (
    MINUTE,
    Clock,
    merge_stamp,
    read_stamp,
    receive,
    tick,
    write_stamp,
)

MS = st.integers(0, 2**47)
CLOCKS = st.builds(Clock, MS, st.integers(0, 2**32 - 1), st.sampled_from(["a" * 16, "b" * 16]))


@given(CLOCKS)
def test_what_is_written_is_read(clock: Clock) -> None:
    assert read_stamp(write_stamp(clock)) == clock


@given(CLOCKS, CLOCKS)
def test_stamps_sort_as_clocks(one: Clock, other: Clock) -> None:
    assert (write_stamp(one) < write_stamp(other)) == (one < other)


@given(CLOCKS, st.lists(MS, min_size=2))
def test_each_stamp_is_greater_than_the_last(clock: Clock, walls: list[int]) -> None:
    made = []
    for wall in walls:
        clock, stamp = tick(clock, wall)
        made.append(stamp)
    assert made == sorted(set(made))


@given(CLOCKS, CLOCKS, MS)
def test_what_was_seen_is_behind_and_nobody_drags_the_clock(
    mine: Clock, theirs: Clock, wall: int
) -> None:
    after = receive(mine, write_stamp(theirs), wall)
    assert mine <= after and after.node == mine.node
    assert after.ms <= max(mine.ms, wall + MINUTE)
    if theirs.ms <= wall + MINUTE:
        assert tick(after, wall)[1] > write_stamp(theirs)


@given(CLOCKS, MS)
def test_the_cap_only_lowers(clock: Clock, received: int) -> None:
    made = write_stamp(clock)
    merged = read_stamp(merge_stamp(made, received))
    assert merged.ms <= received + MINUTE or merged == clock
    assert write_stamp(merged) <= made and merged.node == clock.node
