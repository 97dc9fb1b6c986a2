"""Which function a rule of the shared vectors names, and how its `given` is passed."""

import json
from collections.abc import Callable
from importlib import resources
from typing import Any

from sporeline.kernel import clock, code, days
from sporeline.kernel.canonical import canonical
from sporeline.kernel.clock import Clock
from sporeline.kernel.due import due
from sporeline.kernel.fold import fold
from sporeline.kernel.plan_shape import is_plan


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


PLANS = resources.files("sporeline.contract").joinpath("plans")


def _due(given: Any) -> Any:
    """`plan`: a care plan, or the name of a shipped one. Records are folded from `entries`. `only`:
    the rules whose tasks the vector is about."""
    plan = given["plan"]
    if isinstance(plan, str):
        plan = json.loads(PLANS.joinpath(f"{plan}.json").read_text("utf-8"))
    folded = {
        i: fold(i, given["entries"], given["kinds"]) for i in [given["subject"], *given["inside"]]
    }
    inside = [folded[i] for i in given["inside"]]
    beside = (given["growing"], given["outlook"], given["away"], given["today"])
    tasks = due(plan, folded[given["subject"]], inside, *beside)
    return [task for task in tasks if task["rule"] in given.get("only", [task["rule"]])]


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
    "due": _due,
    "plan": lambda given: is_plan(given["plan"]),
    "fold": lambda given: fold(given["record"], given["entries"], given["kinds"]),
}
