"""Made-up entries about one record, well-formed or held, for property tests."""

from collections.abc import Sequence
from typing import Any

from hypothesis import strategies as st

RECORD = "S"
DAY_ZERO = 0x019DE28D3C00
KINDS: dict[str, Any] = {
    "record.described": {"v": [1], "nature": "description"},
    "box.described": {"v": [1], "nature": "description"},
    "growth.seen": {
        "v": [1],
        "nature": "fact",
        "state": {"name": "growth", "field": "growth"},
        "sums": {"plants": "plants"},
    },
    "trouble.begun": {
        "v": [1, 2],
        "nature": "fact",
        "state": {"name": "trouble", "by": "trouble", "value": True},
        "implies": "box",
    },
    "entry.struck": {"v": [1], "nature": "strike"},
}
VALUES = st.sampled_from([None, True, 1, 0, "", "a", "🌿", {"b": 1, "a": []}, {"a": [], "b": 1}])
AT = st.sampled_from(
    ["2026-05-01", "2026-05-02", "2026-05-01T12:00:00+02:00", "2026-05-01T12:00:00-05:00"]
)
ALSO = st.sampled_from([[], ["T"], ["T", "U"], ["U", "T"]])


@st.composite
def stamps(draw: st.DrawFn) -> str:
    ms = DAY_ZERO + draw(st.sampled_from([0, 1, 60_000, 60_001, 90_000]))
    return f"{ms:012x}-{draw(st.integers(0, 2)):08x}-{draw(st.sampled_from('ab')) * 16}"


def data_of(draw: st.DrawFn, kind: str, ids: Sequence[str]) -> dict[str, Any]:
    if kind == "entry.struck":
        return {"entry": draw(st.sampled_from(ids)), "reason": "x"}
    if kind == "growth.seen":
        growth = draw(st.sampled_from(["nothing", "green_film"]))
        return {"growth": growth, "plants": draw(st.integers(-2, 2))}
    if kind == "trouble.begun":
        return {"trouble": draw(st.sampled_from(["mould", "slime"]))}
    return draw(st.dictionaries(st.sampled_from(["name", "note", "🌿"]), VALUES))


@st.composite
def entries(draw: st.DrawFn) -> list[dict[str, Any]]:
    ids = [f"e{i}" for i in range(draw(st.integers(0, 9)))]
    return [draw(_entry(each, ids)) for each in ids]


@st.composite
def _entry(draw: st.DrawFn, entry_id: str, ids: Sequence[str]) -> dict[str, Any]:
    kind = draw(st.sampled_from([*KINDS, "entry.struck", "record.described", "box.weighed"]))
    data = data_of(draw, kind, ids)
    entry = {
        "id": entry_id,
        "kind": kind,
        "v": draw(st.sampled_from([1, 1, 1, 2])),
        "about": draw(st.sampled_from([RECORD, RECORD, RECORD, "T"])),
        "also": draw(ALSO),
        "at": draw(AT),
        "made": draw(stamps()),
        "data": data,
        "state": draw(st.sampled_from(["stored", "stored", "stored", "held"])),
        "received": draw(st.sampled_from([None, DAY_ZERO, DAY_ZERO + 30_000])),
    }
    if entry["about"] == "T":
        entry["also"] = [RECORD]
    if kind.endswith("described"):
        some = st.lists(st.sampled_from([*ids, "x"]), max_size=3)
        entry["seen"] = {field: draw(some) for field in data}
    return entry
