"""The fold gives one record whatever the order, the copies or the batches, and keeps to its rules
as a slow reading of their words keeps to them."""

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from sporeline.kernel.canonical import canonical
from sporeline.kernel.fold import fold
from sporeline.kernel.heads import heads_of
from sporeline.kernel.standing import filed_under, struck_ids
from tests.backend.kernel.made_up import KINDS, RECORD, entries

Entries = list[dict[str, Any]]


def folded(given_entries: Entries) -> str:
    return canonical(fold(RECORD, given_entries, KINDS))


@given(entries(), st.randoms(use_true_random=False))
@settings(max_examples=150)
def test_any_order(made_up: Entries, random: Any) -> None:
    shuffled = made_up[:]
    random.shuffle(shuffled)
    assert folded(shuffled) == folded(made_up)


@given(entries(), st.data())
@settings(max_examples=100)
def test_any_copies(made_up: Entries, data: st.DataObject) -> None:
    copies = data.draw(st.lists(st.sampled_from(made_up), max_size=5)) if made_up else []
    assert folded([*copies, *made_up]) == folded(made_up)
    unsent = [{**each, "received": None, "state": None} for each in copies]
    assert folded([*made_up, *unsent]) == folded([*unsent, *made_up]) == folded(made_up)


@given(entries(), st.data())
@settings(max_examples=100)
def test_any_batches(made_up: Entries, data: st.DataObject) -> None:
    """As a phone takes them in: batch by batch, some of it twice, into one store."""
    store: dict[str, dict[str, Any]] = {}
    batch_of = {each["id"]: data.draw(st.integers(0, 3)) for each in made_up}
    for batch in range(4):
        store |= {each["id"]: each for each in made_up if batch_of[each["id"]] == batch}
        store |= {each["id"]: each for each in made_up if batch_of[each["id"]] == batch - 1}
        fold(RECORD, store.values(), KINDS)
    assert folded(list(store.values())) == folded(made_up)


@given(entries())
@settings(max_examples=150)
def test_every_entry_has_one_place_and_every_field_a_head(made_up: Entries) -> None:
    record = fold(RECORD, made_up, KINDS)
    placed = [*record["facts"], *record["struck"], *record["held"], *record["unknown"]]
    told = [e["id"] for e in made_up if e["id"] not in placed]
    assert len(placed) == len(set(placed))
    assert all(e["kind"] in KINDS for e in made_up if e["id"] in told)
    for kind, fields in record["fields"].items():
        for field, value in fields.items():
            [shown, *_] = record["heads"][kind][field]
            assert canonical(value) == canonical(by_id(made_up)[shown]["data"][field])


@given(entries())
@settings(max_examples=150)
def test_standing_as_the_rule_says_it(made_up: Entries) -> None:
    here = by_id(made_up)
    strikes = {i: strikes_on(i, here) for i in here}
    stands, struck = set[str](), set[str]()
    while True:
        now_stand = {i for i in here if strikes[i] <= struck}
        now_struck = {i for i in here if strikes[i] & stands}
        if (now_stand, now_struck) == (stands, struck):
            break
        stands, struck = now_stand, now_struck
    assert struck_ids(here) == struck


NODES = "abcdef"
LINKS = st.dictionaries(
    st.sampled_from(NODES), st.lists(st.sampled_from(NODES), max_size=3).map(sorted)
)


@given(LINKS, st.sets(st.sampled_from(NODES)))
@settings(max_examples=300)
def test_heads_as_the_rule_says_it(links: dict[str, list[str]], wanted: set[str]) -> None:
    from_each = {node: reached(node, links) for node in NODES}

    def over(x: str, y: str) -> bool:
        return y in from_each[x] and x not in from_each[y]

    heads = {y for y in wanted if not any(over(x, y) for x in wanted)}
    found = heads_of(sorted(wanted), links)
    assert sorted(found) == sorted(heads)


def by_id(made_up: Entries) -> dict[str, dict[str, Any]]:
    return {each["id"]: each for each in made_up}


def strikes_on(target: str, here: dict[str, dict[str, Any]]) -> set[str]:
    strikes = [e for e in here.values() if e["kind"] == "entry.struck" and e["state"] != "held"]
    filed = filed_under(here[target])
    return {e["id"] for e in strikes if e["data"]["entry"] == target and filed_under(e) == filed}


def reached(start: str, links: dict[str, list[str]]) -> set[str]:
    found: set[str] = set()
    open_ends = list(links.get(start, []))
    while open_ends:
        node = open_ends.pop()
        if node not in found:
            found.add(node)
            open_ends += links.get(node, [])
    return found
