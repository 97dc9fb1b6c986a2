"""The shipped care plan: its schema, its texts, and that its answers make entries that count."""

import json
from collections.abc import Iterator
from importlib import resources
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from sporeline.contract.kinds import KERNEL_KINDS
from sporeline.contract.registry import KINDS
from sporeline.kernel.plan_shape import is_plan

CONTRACT = resources.files("sporeline.contract")


def read(path: str) -> Any:
    return json.loads(CONTRACT.joinpath(path).read_text("utf-8"))


PLAN = read("plans/closed_box.json")
RULES = {rule["rule"]: rule for rule in PLAN["rules"]}
TEXTS = read("texts/plans.json")
SCHEMA = Draft202012Validator(read("plans/schema/care_plan.json"))
TEMPLATES = [
    pytest.param(template, id=f"{name}-{code}-{i}")
    for name, rule in RULES.items()
    for code, templates in rule["answers"].items()
    for i, template in enumerate(templates)
]


def test_the_plan_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA.schema)
    assert [f"{e.json_path}: {e.message}" for e in SCHEMA.iter_errors(PLAN)] == []
    assert is_plan(PLAN)


@pytest.mark.parametrize("rule", RULES.values(), ids=list(RULES))
def test_a_rule_has_its_words_and_its_answers(rule: dict[str, Any]) -> None:
    assert rule["ask"] == list(rule["answers"])
    keys = [rule[part] for part in ("question", "why", "caution") if part in rule]
    keys += [f"plans.answer.{code}" for code in rule["ask"]]
    assert [key for key in keys if key not in TEXTS] == []


def test_no_text_is_left_over() -> None:
    keys = {value for rule in RULES.values() for value in rule.values() if isinstance(value, str)}
    codes = {f"plans.answer.{code}" for rule in RULES.values() for code in rule["ask"]}
    assert set(TEXTS) == (
        {key for key in keys if key.startswith("plans.")} | codes | {PLAN["title"]}
    )


@pytest.mark.parametrize("template", TEMPLATES)
def test_an_answer_makes_an_entry_that_counts(template: dict[str, Any]) -> None:
    kind = KINDS[(template["kind"], 1)]
    filled = {"task": "B/round/2026-05-01", "answer": "later", "until": "2026-05-08"}
    further = template.get("by", {"data": {"": {}}})["data"].values()
    for data in further:
        given = {**template["data"], **data}
        given = {**given, **filled} if template["kind"] == "task.answered" else given
        faults: list[Any] = []
        kind.check(given, "data", faults)
        assert faults == []


def test_kinds_states_and_rules_that_are_named_exist() -> None:
    states = {view["state"]["name"] for view in KERNEL_KINDS.values() if "state" in view}
    for part in _objects(PLAN["rules"]):
        assert "last" not in part or part["last"] in KERNEL_KINDS
        assert "since" not in part or part["since"] in states
        assert not isinstance(part.get("state"), str) or part["state"] in states
        assert "codes" not in part or set(part["codes"]) <= set(RULES[part["answered"]]["ask"])


def test_a_plan_with_a_slip_is_refused() -> None:
    slips: list[Any] = []
    for i in range(len(PLAN["rules"])):
        for part in PLAN["rules"][i]:
            slips += [_changed(i, part, None), _changed(i, part, {"no": "such thing"})]
        slips.append(_changed(i, "colour", "green"))
    assert len(slips) > 200
    assert [slip for slip in slips if SCHEMA.is_valid(slip) and not is_plan(slip)] == []
    bare = {part for rule in RULES.values() for part in rule} - {"caution", "while", "done_by"}
    for part in bare - {"again", "leaves_out", "each"}:
        with_it = next(i for i, rule in enumerate(PLAN["rules"]) if part in rule)
        assert not SCHEMA.is_valid(_changed(with_it, part, None)), part


def _changed(i: int, part: str, value: Any) -> Any:
    """The plan with this rule only, one part of it changed, or left out where the value is None."""
    rule = {**PLAN["rules"][i], part: value}
    if value is None:
        del rule[part]
    return {**PLAN, "rules": [rule]}


def _objects(value: Any) -> Iterator[dict[str, Any]]:
    if isinstance(value, dict):
        yield value
        value = list(value.values())
    for each in value if isinstance(value, list) else ():
        yield from _objects(each)
