"""Runs every shared vector of the kernel; see tests/vectors/README.md."""

import json
from pathlib import Path
from typing import Any

import pytest

from sporeline.kernel.canonical import canonical
from tests.backend.kernel.calls import CALLS

VECTORS = Path(__file__).parents[2] / "vectors"
FILES = [json.loads(path.read_text("utf-8")) for path in sorted(VECTORS.rglob("*.json"))]
CASES = [(told, each) for told in FILES if told["rule"] in CALLS for each in told["vectors"]]


@pytest.mark.parametrize(("told", "vector"), CASES, ids=[each["id"] for _, each in CASES])
def test_vector(told: dict[str, Any], vector: dict[str, Any]) -> None:
    shared, call = told.get("shared", {}), CALLS[told["rule"]]
    given = {**shared.get("given", {}), **vector["given"]}
    if "reject" in vector:
        with pytest.raises(ValueError, match=r"“|outside the years"):
            call(given)
    else:
        wanted = vector["expect"]
        wanted = {**shared["expect"], **wanted} if "expect" in shared else wanted
        # As text: in Python True == 1.
        assert canonical(call(given)) == canonical(wanted)
