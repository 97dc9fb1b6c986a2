"""Running numbers for labels, handed out in blocks so that a phone can number with no signal.

A lost answer must not cost a phone its numbers, nor the logbook a block: a phone tells for each
series the last number it was given (`to`), and while that is not ours, it is told again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sqlalchemy import Connection, bindparam, func, select

from sporeline.logbook.tables import number_block
from sporeline.people import Session

SERIES = ("box", "packet", "plant", "pots", "mix", "shelf")
BLOCK = 50
FEW = 15
"""With fewer left than this, the phone gets the next block."""

TOLD = 3
"""So many of its latest blocks in a series a phone is told: it may still be using older ones."""


@dataclass(frozen=True)
class Block:
    """Numbers `first` to `last` of a series, for one phone."""

    series: str
    first: int
    last: int


@dataclass(frozen=True)
class Left:
    """How many numbers a phone has left, and the last number it was ever given, if it says so."""

    left: int
    to: int | None = None


_of_device = (
    select(number_block.c.series, number_block.c.first, number_block.c.last)
    .where(
        number_block.c.key == bindparam("in_key"),
        number_block.c.device == bindparam("of_device"),
    )
    .order_by(number_block.c.series, number_block.c.last)
)


def present(c: Connection, key: int, device: str) -> list[Block]:
    """The phone's latest blocks of each series, in order."""
    by_series: dict[str, list[Block]] = {}
    for row in c.execute(_of_device, {"in_key": key, "of_device": device}):
        by_series.setdefault(row.series, []).append(Block(*row))
    return [block for blocks in by_series.values() for block in blocks[-TOLD:]]


def wanting(blocks: Iterable[Block], session: Session, left: Mapping[str, Left]) -> list[str]:
    """Series of which this phone needs a further block."""
    last = {block.series: block.last for block in blocks}
    series = dict.fromkeys((*SERIES, session.initials))
    return [name for name in series if _wants(last.get(name), left.get(name))]


def grant(c: Connection, key: int, device: str, series: Iterable[str]) -> None:
    """The next block of each series, for this phone. The logbook's row is locked."""
    for name in series:
        first = _highest(c, key, name) + 1
        _keep(c, key, name, first, device)


def leave_gap(c: Connection, key: int) -> None:
    """After going back to an older copy: blocks that were handed out since then are not known any
    more, so some are passed over in every series."""
    given = select(number_block.c.series).where(number_block.c.key == key).distinct()
    for name in list(c.scalars(given)):
        first = _highest(c, key, name) + 1
        last = first + 20 * BLOCK - 1
        _insert(c, {"key": key, "series": name, "first": first, "last": last, "device": None})


def _wants(last: int | None, said: Left | None) -> bool:
    if last is None:
        return True
    return said is not None and said.left < FEW and (said.to is None or said.to >= last)


def _keep(c: Connection, key: int, series: str, first: int, device: str) -> None:
    last = first + BLOCK - 1
    _insert(c, {"key": key, "series": series, "first": first, "last": last, "device": device})


def _insert(c: Connection, row: Mapping[str, object]) -> None:
    c.execute(number_block.insert().values(row))


def _highest(c: Connection, key: int, series: str) -> int:
    here = (number_block.c.key == key) & (number_block.c.series == series)
    return c.scalar(select(func.max(number_block.c.last)).where(here)) or 0
