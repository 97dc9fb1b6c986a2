"""Runs the shared vectors of the tables of ferns; twin of tests/pwa/contract."""

import json
from pathlib import Path
from typing import Any

import pytest

from sporeline.contract.taxa import growing_of, sorus_of

FILE = Path(__file__).parents[2] / "vectors" / "taxa" / "growing.json"
VECTORS = json.loads(FILE.read_text("utf-8"))["vectors"]


@pytest.mark.parametrize("vector", VECTORS, ids=[each["id"] for each in VECTORS])
def test_vector(vector: dict[str, Any]) -> None:
    taxon = vector["given"]["taxon"]
    assert {"growing": growing_of(taxon), "sorus": sorus_of(taxon)} == vector["expect"]
