"""Tasks: the same whatever the order of what is given, one for each rule, and no heap."""

import json
from datetime import date, timedelta
from importlib import resources
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from sporeline.contract.kinds import KERNEL_KINDS
from sporeline.kernel.due import due
from sporeline.kernel.fold import fold

PLANS = resources.files("sporeline.contract").joinpath("plans")
PLAN = json.loads(PLANS.joinpath("closed_box.json").read_text("utf-8"))
BOXES = ["B0", "B1"]
SOWINGS = ["S0", "S1", "S2"]
DAYS = st.integers(0, 200)
SOWING = st.sampled_from(SOWINGS)
BOX = st.sampled_from(BOXES)
GROWTH = st.sampled_from(["nothing", "green_film", "prothalli", "first_fronds", "winter_rest"])
CODES = st.sampled_from(["later", "keep_at_back", "give_up", "misted", "stalled", "came_back"])


def on(day: int) -> str:
    return (date(2026, 5, 1) + timedelta(days=day)).isoformat()


def box_of(sowing: str) -> str:
    return BOXES[SOWINGS.index(sowing) % 2]


def _fact(kind: str, about: str, day: int, also: list[str], **data: Any) -> dict[str, Any]:
    return {"kind": kind, "about": about, "also": also, "at": on(day), "data": data}


def _answer(sowing: str, rule: str, code: str, anchor: int, day: int) -> dict[str, Any]:
    task = f"{box_of(sowing)}/{rule}/{on(anchor)}"
    return _fact("task.answered", box_of(sowing), day, [sowing], task=task, answer=code)


def _look(sowing: str, growth: str, day: int) -> dict[str, Any]:
    return _fact("growth.seen", sowing, day, [box_of(sowing)], growth=growth)


FACTS = st.one_of(
    st.builds(lambda s, d: _fact("spores.sown", s, d, [box_of(s)]), SOWING, DAYS),
    st.builds(_look, SOWING, GROWTH, DAYS),
    st.builds(lambda b, d: _fact("shelf.walked", "K", d, b), st.lists(BOX, unique=True), DAYS),
    st.builds(
        _answer, SOWING, st.sampled_from([r["rule"] for r in PLAN["rules"]]), CODES, DAYS, DAYS
    ),
    st.builds(
        lambda b, c, d: _fact("cover.set", b, d, [], cover=c),
        BOX,
        st.sampled_from(["half", "off"]),
        DAYS,
    ),
)


def world(facts: list[dict[str, Any]]) -> list[dict[str, Any]]:
    fixed = [{"kind": "shelf.described", "about": "K", "at": on(0), "data": {}, "seen": {}}]
    for box in BOXES:
        fixed.append({"kind": "box.described", "about": box, "at": on(0), "data": {}, "seen": {}})
        fixed.append(_fact("box.placed", box, 0, ["K"], shelf="K"))
    for sowing in SOWINGS:
        said = {"data": {"box": box_of(sowing)}, "seen": {"box": []}}
        fixed.append({"kind": "sowing.described", "about": sowing, "at": on(0), **said})
    made = "019de28d3c00-{:08x}-00000000000000a1"
    return [
        {"id": f"e{i}", "v": 1, "made": made.format(i), **e} for i, e in enumerate(fixed + facts)
    ]


def tasks(entries: list[dict[str, Any]], inside: list[str], subject: str, today: int) -> list[Any]:
    records = {i: fold(i, entries, KERNEL_KINDS) for i in [subject, *inside]}
    return list(due(PLAN, records[subject], [records[i] for i in inside], {}, [], [], on(today)))


@given(st.lists(FACTS, max_size=12), DAYS, st.randoms(use_true_random=False))
@settings(max_examples=80)
def test_any_order_gives_the_same_tasks(facts: list[Any], today: int, random: Any) -> None:
    entries, inside = world(facts), [*BOXES, *SOWINGS]
    found = [tasks(entries, inside, subject, today) for subject in ["K", *BOXES]]
    random.shuffle(entries)
    random.shuffle(inside)
    assert [tasks(entries, inside, subject, today) for subject in ["K", *BOXES]] == found


@given(st.lists(FACTS, max_size=12), DAYS)
@settings(max_examples=80)
def test_one_task_for_each_rule_in_order_and_in_time(facts: list[Any], today: int) -> None:
    entries = world(facts)
    for subject in ["K", *BOXES]:
        found = tasks(entries, [*BOXES, *SOWINGS], subject, today)
        assert len({task["rule"] for task in found}) == len(found)
        assert found == sorted(found, key=lambda task: (task["due"], task["id"]))
        for task in found:
            assert task["until"] is None or task["until"] >= max(on(today), task["due"])
            assert task["id"] == f"{subject}/{task['rule']}/{task['id'][-10:]}"


@given(st.lists(FACTS, max_size=12), DAYS)
@settings(max_examples=80)
def test_no_box_is_in_the_round_and_asked_by_itself(facts: list[Any], today: int) -> None:
    entries, inside = world(facts), [*BOXES, *SOWINGS]
    for task in tasks(entries, inside, "K", today):
        by_then = max(task["due"], on(today))
        for box in task["covers"]:
            assert [
                own for own in tasks(entries, inside, box, today) if own["due"] <= by_then
            ] == []


@given(st.lists(FACTS, max_size=12))
@settings(max_examples=60)
def test_a_long_absence_ends_in_one_card(facts: list[Any]) -> None:
    """From 160 days after the last note on, nothing but the round is open."""
    entries, inside = world(facts), [*BOXES, *SOWINGS]
    found = [task for each in ["K", *BOXES] for task in tasks(entries, inside, each, 200 + 160)]
    assert [task for task in found if task["rule"] != "round"] == []
