"""The schemas stay the one description: the judge's plain functions agree with marshmallow."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sporeline.contract import registry
from sporeline.contract.faults import Fault
from sporeline.contract.kinds import KERNEL_KINDS, KINDS
from tests.backend.contract.entries import id_of

VALUES = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(2**60), 2**60),
    st.floats(allow_nan=False),
    st.sampled_from(
        [
            "",
            "ripe",
            "pinna",
            "box",
            "a",
            "N",
            "all",
            "WGS84",
            "2026-05-01",
            "07:30",
            "Europe/Berlin",
        ]
    ),
    st.just(id_of(5)),
    st.lists(st.just(id_of(5)), max_size=25),
    st.text(max_size=250),
    st.fixed_dictionaries(
        {"from": st.sampled_from(["07:30", "2026-05-01"]), "to": st.just("07:30")}
    ),
    st.just({"rules": []}),
)


@pytest.mark.parametrize("kind", KINDS.values(), ids=lambda kind: str(kind.name))
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_marshmallow_and_the_judge_agree(kind: registry.Kind, data: st.DataObject) -> None:
    values = data.draw(st.fixed_dictionaries({}, optional={name: VALUES for name in kind.fields}))
    faults: list[Fault] = []
    kind.check(values, "data", faults)
    by_judge = {each["where"].split(".")[1] for each in faults}
    assert by_judge == kind.schema().validate(values).keys()


def test_fields_that_a_newer_phone_sends_are_kept() -> None:
    loaded = registry.DataSchema.from_dict({})(unknown="include").load({"new": [1]})
    assert loaded == {"new": [1]}


def test_the_kernel_is_told_of_states_sums_and_types() -> None:
    assert KERNEL_KINDS["growth.seen"] == {
        "v": [1],
        "nature": "fact",
        "state": {"name": "growth", "field": "growth"},
    }
    assert KERNEL_KINDS["trouble.ended"]["state"] == {
        "name": "trouble",
        "by": "trouble",
        "value": False,
    }
    assert KERNEL_KINDS["frond.cut"]["sums"] == {"plants": "plants"}
    assert KERNEL_KINDS["spores.sown"]["implies"] == "sowing"
    assert KERNEL_KINDS["entry.struck"]["nature"] == "strike"
    natures = {name: view["nature"] for name, view in KERNEL_KINDS.items()}
    assert all(natures[name] == "description" for name in natures if name.endswith(".described"))


def test_a_kind_is_declared_once() -> None:
    with pytest.raises(ValueError, match="twice"):
        registry.fact("sori.seen")(registry.DataSchema)


def test_released_names_and_fields_stay() -> None:
    """Schemas only grow: a kind or field that was once released may not go or change its type."""
    present = {f"{kind.name} {kind.v}": set(kind.fields) for kind in KINDS.values()}
    for released, fields in RELEASED.items():
        assert set(fields.split()) <= present[released], released


RELEASED = {
    "box.described 1": "vessel keeper plan",
    "box.placed 1": "shelf place_no",
    "clump.described 1": "from box",
    "cover.set 1": "cover",
    "entry.struck 1": "entry reason instead",
    "frond.cut 1": "taken plants",
    "gathering.described 1": "number collectors plant place grown owner permit allows",
    "growth.seen 1": "growth amount",
    "mix.described 1": "recipe heated",
    "name.given 1": "taxon sure qualifier other why",
    "packet.described 1": "from",
    "packet.received 1": "from as_written year their_number what promised",
    "person.described 1": "initials notice_at zone quiet away detail",
    "photo.taken 1": "photo shows",
    "place.described 1": "owner permit allows grown",
    "place.fixed 1": "lat_e7 lon_e7 uncertainty_m datum source audience",
    "place.told 1": "lat_e7 lon_e7 uncertainty_m words",
    "plan.described 1": "title",
    "plan.set 1": "plan",
    "plant.described 1": "place colony",
    "pots.described 1": "from way size",
    "record.described 1": "name same_as note code",
    "shelf.described 1": "stands light facing keeper",
    "shelf.walked 1": "",
    "sori.seen 1": "ripeness way",
    "sowing.described 1": "box part packets mix control together",
    "spores.sown 1": "density",
    "task.answered 1": "task answer until",
    "trouble.begun 1": "trouble",
    "trouble.ended 1": "trouble",
}
