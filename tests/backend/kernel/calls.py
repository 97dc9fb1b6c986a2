"""Which function a rule of the shared vectors names, and how its `given` is passed."""

from collections.abc import Callable
from typing import Any

from sporeline.kernel import clock, code, days
from sporeline.kernel.canonical import canonical
from sporeline.kernel.clock import Clock
from sporeline.kernel.fold import fold


def _clock(given: Any) -> Clock:
    return Clock(given["ms"], given["counter"], given["node"])


def _tick(given: Any) -> Any:
    after, made = clock.tick(_clock(given["clock"]), given["wall_ms"])
    return {"clock": after._asdict(), "made": made}


def _receive(given: Any) -> Any:
    return clock.receive(_clock(given["clock"]), given["made"], given["wall_ms"])._asdict()


def _draw(given: Any) -> Any:
    draws = iter(given["draws"])
    return code.draw_code(lambda n: next(draws) % n)


CALLS: dict[str, Callable[[Any], Any]] = {
    "canonical": lambda given: canonical(given["value"]),
    "clock.read": lambda given: clock.read_stamp(given["text"])._asdict(),
    "clock.write": lambda given: clock.write_stamp(_clock(given["clock"])),
    "clock.tick": _tick,
    "clock.receive": _receive,
    "clock.merge": lambda given: clock.merge_stamp(given["made"], given["received"]),
    "code.of": lambda given: code.code_of(given["five"]),
    "code.draw": _draw,
    "code.verify": lambda given: code.verify(given["code"]),
    "code.suggestions": lambda given: code.suggestions(given["code"]),
    "days.count": lambda given: days.to_day(given["date"]),
    "days.write": lambda given: days.from_day(given["day"]),
    "days.add": lambda given: days.from_day(
        days.add_duration(days.to_day(given["date"]), given["duration"])
    ),
    "fold": lambda given: fold(given["record"], given["entries"], given["kinds"]),
}
