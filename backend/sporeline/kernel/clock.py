"""Hybrid logical clock: stamps that sort as text in an order that follows what people saw.

A stamp is `{12 hex ms}-{8 hex counter}-{16 hex node}`, lower case. The way of counting is that of
Kulkarni et al., "Logical Physical Clocks" (2014); what is received moves the own clock by a minute
at most, so that one phone with a wrong clock cannot drag all others along.
"""

from typing import NamedTuple

MINUTE = 60_000
"""How far, in ms, a received stamp may stand ahead of the clock of the one who receives it."""

LAST_COUNTER = 0xFFFFFFFF
_HEX = frozenset("0123456789abcdef")
_LENGTHS = [12, 8, 16]


class Clock(NamedTuple):
    """`ms` and `counter` of the last stamp made or taken over; `node` is 16 hex digits."""

    ms: int
    counter: int
    node: str


def is_stamp(text: object) -> bool:
    if not isinstance(text, str):
        return False
    parts = text.split("-")
    return list(map(len, parts)) == _LENGTHS and all(_HEX.issuperset(part) for part in parts)


def read_stamp(text: str) -> Clock:
    """Raises ValueError when the text is no stamp."""
    if not is_stamp(text):
        raise ValueError(f"“{text}” is not a stamp of the form ms-counter-node in lower-case hex.")
    ms, counter, node = text.split("-")
    return Clock(int(ms, 16), int(counter, 16), node)


def write_stamp(clock: Clock) -> str:
    return f"{clock.ms:012x}-{clock.counter:08x}-{clock.node}"


def tick(clock: Clock, wall_ms: int) -> tuple[Clock, str]:
    """The clock after making one stamp, and that stamp: greater than all before it."""
    if wall_ms > clock.ms:
        after = clock._replace(ms=wall_ms, counter=0)
    elif clock.counter < LAST_COUNTER:
        after = clock._replace(counter=clock.counter + 1)
    else:
        after = clock._replace(ms=clock.ms + 1, counter=0)
    return after, write_stamp(after)


def receive(clock: Clock, made: str, wall_ms: int) -> Clock:
    """The clock after seeing another's stamp; never moved beyond `wall_ms` + 60000 by it."""
    theirs = read_stamp(made)
    limit = wall_ms + MINUTE
    ms, counter = (theirs.ms, theirs.counter) if theirs.ms <= limit else (limit, LAST_COUNTER)
    return max(clock, clock._replace(ms=ms, counter=counter))


def merge_stamp(made: str, received: int | None) -> str:
    """The stamp by which an entry is ordered: `made`, but at most a minute after the server first
    had it (`received`, ms)."""
    if received is None:
        return made
    cap = f"{received + MINUTE:012x}"
    return made if made[:12] <= cap else f"{cap}-ffffffff-{made[22:]}"
