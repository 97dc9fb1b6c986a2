"""The shipped care plan and the usual spans against what growers say.

*Common practice*: no figure here has a published source. They are the usual spans in a closed box
at 18–22 °C that growers give each other, written down by hand for this check and not read from the
tables of the app; a mistake of typing in either shows here.
"""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any

import pytest

from sporeline.contract.taxa import growing_of

# Fern, days to the first green, months to the first fronds; *common practice*.
USUAL = [
    ("Athyrium filix-femina", (14, 42), (3, 6)),
    ("Dryopteris filix-mas", (14, 42), (3, 6)),
    ("Polystichum setiferum", (14, 42), (3, 6)),
    ("Dryopteris affinis", (10, 28), (2, 4)),  # apogamous: sooner
    ("Osmunda regalis", (5, 14), (3, 8)),  # green spores: days
    ("Dicksonia antarctica", (21, 42), (5, 12)),
    ("Polypodium vulgare", (21, 56), (6, 14)),
    ("Asplenium scolopendrium", (21, 56), (5, 12)),
    ("Adiantum capillus-veneris", (14, 35), (3, 7)),
]
DAYS_A_MONTH = 365.25 / 12


@pytest.mark.parametrize(("fern", "green", "_fronds"), USUAL, ids=[row[0] for row in USUAL])
def test_usual_days_to_the_first_green(
    fern: str, green: tuple[int, int], _fronds: tuple[int, int]
) -> None:
    least, most = growing_of(fern)["spans"]["green"] or (0, 0)
    assert least * 7 == pytest.approx(green[0], abs=7)
    assert most * 7 == pytest.approx(green[1], abs=7)


@pytest.mark.parametrize(("fern", "_green", "fronds"), USUAL, ids=[row[0] for row in USUAL])
def test_usual_months_to_the_first_fronds(
    fern: str, _green: tuple[int, int], fronds: tuple[int, int]
) -> None:
    least, most = growing_of(fern)["spans"]["first_fronds"] or (0, 0)
    assert least * 7 == pytest.approx(fronds[0] * DAYS_A_MONTH, abs=10)
    assert most * 7 == pytest.approx(fronds[1] * DAYS_A_MONTH, abs=10)


@pytest.fixture(scope="module")
def rules() -> dict[str, dict[str, Any]]:
    path = files("sporeline.contract") / "plans" / "closed_box.json"
    plan = json.loads(path.read_text(encoding="utf-8"))
    assert plan["mark"] == "common practice"
    return {rule["rule"]: rule for rule in plan["rules"]}


def test_when_one_looks_first(rules: dict[str, dict[str, Any]]) -> None:
    """*Common practice*: green spores after a week, apogamous after ten days, others two weeks."""
    assert rules["first-look"]["wait"] == {"usual": "P14D", "green": "P7D", "apogamous": "P10D"}


def test_how_often_one_looks(rules: dict[str, dict[str, Any]]) -> None:
    """*Common practice*: a round a week; film and fronds every three weeks; the back monthly."""
    every = {name: rules[name]["every"] for name in ("round", "green-film", "first-fronds")}
    assert every == {"round": "P1W", "green-film": "P3W", "first-fronds": "P3W"}
    assert rules["at-the-back"]["every"] == "P4W"
    assert rules["at-the-back"]["ends"]["after"] == "P52W"


def test_misting_three_times_and_then_no_more(rules: dict[str, dict[str, Any]]) -> None:
    """*Common practice*: once, again after three and after six weeks; no fronds after twelve."""
    assert rules["misting"]["wait"][1:] == ["P3W", "P3W"]
    assert rules["no-fronds"]["wait"] == "P12W"
