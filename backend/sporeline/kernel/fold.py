"""The fold: what all entries about one record amount to.

Pure: no clock, no zone data, no other record. The same entries give the same record, in whatever
order, split or number of copies they arrive. The rules are numbered as in the design of the
logbook: 1 standing, 2 live, 3 stamp, 4 descriptions, 5 facts.
"""

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from sporeline.kernel.canonical import by_code_units, canonical, same_value
from sporeline.kernel.clock import merge_stamp
from sporeline.kernel.heads import heads_of, links_of
from sporeline.kernel.record import Dated, Entry, Kinds, KindView, Record, State, StateRule
from sporeline.kernel.standing import struck_ids


class Live(NamedTuple):
    """A live entry; as a tuple it sorts by day, time of day, stamp, id (ASCII)."""

    day: str
    time: str
    stamp: str
    id: str
    entry: Entry
    view: KindView


def fold(record_id: str, entries: Iterable[Entry], kinds: Kinds) -> Record:
    """The record that the entries filed under `record_id` amount to. Entries filed elsewhere are
    left out; copies of an entry count once. `kinds`: the kinds and versions this side knows."""
    here = _distinct(record_id, entries)
    record = _empty(record_id)
    live = _sort_out(record, here, kinds)
    facts = sorted(one for one in live if one.view["nature"] == "fact")
    descriptions = [one for one in live if one.view["nature"] == "description"]
    _describe(record, descriptions, here)
    _add_facts(record, facts)
    record["type"] = _type(record_id, descriptions, facts)
    return record


def _empty(record_id: str) -> Record:
    return {
        "id": record_id,
        "type": None,
        "fields": {},
        "heads": {},
        "questions": [],
        "facts": [],
        "struck": [],
        "held": [],
        "unknown": [],
        "states": {},
        "first": {},
        "last": {},
        "sums": {},
    }


def _distinct(record_id: str, entries: Iterable[Entry]) -> dict[str, Entry]:
    here: dict[str, Entry] = {}
    for entry in entries:
        also = entry.get("also")
        if entry.get("about") == record_id or (isinstance(also, list) and record_id in also):
            known = here.get(entry["id"])
            here[entry["id"]] = entry if known is None else _one_of(known, entry)
    return here


def _one_of(copy: Entry, other: Entry) -> Entry:
    """Copies of an entry may differ in what stands beside it: held wins, the earliest receipt
    wins."""
    receipts = [each["received"] for each in (copy, other) if each.get("received") is not None]
    held = "held" in (copy.get("state"), other.get("state"))
    beside = {"received": min(receipts, default=None), "state": "held" if held else "stored"}
    return {**copy, **beside}


def _sort_out(record: Record, here: Mapping[str, Entry], kinds: Kinds) -> list[Live]:
    """Rules 1 to 3: puts by what counts nowhere, and gives the rest with their stamps."""
    struck = struck_ids(here)
    live = []
    for entry_id, entry in here.items():
        view = kinds.get(entry["kind"])
        if entry_id in struck:
            record["struck"].append(entry_id)
        elif entry.get("state") == "held":
            record["held"].append(entry_id)
        elif view is None or entry["v"] not in view["v"]:
            record["unknown"].append(entry_id)
        else:
            at, stamp = entry["at"], merge_stamp(entry["made"], entry.get("received"))
            live.append(Live(at[:10], at[11:19] or "24:00:00", stamp, entry_id, entry, view))
    for put_by in (record["struck"], record["held"], record["unknown"]):
        put_by.sort()
    return live


def _describe(record: Record, descriptions: list[Live], here: Mapping[str, Entry]) -> None:
    """Rule 4. Newest first, so that the first head of a field is the one shown."""
    candidates: dict[str, dict[str, list[Live]]] = {}
    linking = [entry for entry in here.values() if entry.get("seen")]
    for one in sorted(descriptions, key=_by_stamp, reverse=True):
        fields = candidates.setdefault(one.entry["kind"], {})
        for field in one.entry["data"]:
            fields.setdefault(field, []).append(one)
    for kind in sorted(candidates):
        record["fields"][kind] = shown = {}
        record["heads"][kind] = heads = {}
        fields = candidates[kind]
        for field in sorted(fields, key=by_code_units):
            kept = _heads(field, fields[field], linking)
            shown[field] = kept[0].entry["data"][field]
            heads[field] = [one.id for one in kept]
            _ask(record, kind, field, kept)


def _by_stamp(one: Live) -> tuple[str, str]:
    return one.stamp, one.id


def _heads(field: str, candidates: list[Live], linking: list[Entry]) -> list[Live]:
    if len(candidates) == 1:
        return candidates
    heads = set(heads_of([one.id for one in candidates], links_of(field, linking)))
    return [one for one in candidates if one.id in heads]


def _ask(record: Record, kind: str, field: str, heads: list[Live]) -> None:
    """Heads with more than one distinct value are a question; `null` is a value too."""
    if len(heads) == 1:
        return
    values: dict[str, Any] = {}
    for one in heads:
        value = one.entry["data"][field]
        values.setdefault(canonical(value), value)
    if len(values) > 1:
        ids, distinct = [one.id for one in heads], list(values.values())
        question = {"kind": kind, "field": field, "heads": ids, "values": distinct}
        record["questions"].append(question)


def _add_facts(record: Record, facts: list[Live]) -> None:
    """Rule 5, in the order of the facts."""
    record["facts"] = [fact.id for fact in facts]
    record["last"] = {fact.entry["kind"]: _dated(fact) for fact in _last_of_each(facts)}
    record["first"] = {fact.entry["kind"]: _dated(fact) for fact in _last_of_each(facts[::-1])}
    for fact in facts:
        if "state" in fact.view:
            _set_state(record["states"], fact, fact.view["state"])
        if "sums" in fact.view:
            _add(record["sums"], fact.entry["data"], fact.view["sums"])
    for name in sorted(record["sums"]):
        if record["sums"][name] < 0:
            record["questions"].append({"sum": name, "value": record["sums"][name]})


def _last_of_each(facts: list[Live]) -> Iterable[Live]:
    return {fact.entry["kind"]: fact for fact in facts}.values()


def _dated(fact: Live) -> Dated:
    dated: Dated = {"entry": fact.id, "at": fact.entry["at"]}
    if "span" in fact.entry:
        dated["to"] = fact.entry["span"]["to"]
    return dated


def _set_state(states: dict[str, State], fact: Live, rule: StateRule) -> None:
    data, at = fact.entry["data"], fact.entry["at"]
    by = data.get(rule["by"]) if "by" in rule else ""
    if not isinstance(by, str) or ("field" in rule and rule["field"] not in data):
        return
    name = f"{rule['name']}:{by}" if "by" in rule else rule["name"]
    value = rule["value"] if "value" in rule else data[rule["field"]] if "field" in rule else data
    before = states.get(name)
    same_run = before is not None and same_value(before["value"], value)
    since = before["since"] if before is not None and same_run else at
    states[name] = {"value": value, "at": at, "since": since, "entry": fact.id}


def _add(sums: dict[str, int], data: Mapping[str, Any], rule: Mapping[str, str]) -> None:
    for name, field in rule.items():
        number = data.get(field)
        if isinstance(number, int) and not isinstance(number, bool):
            sums[name] = sums.get(name, 0) + number


def _type(record_id: str, descriptions: list[Live], facts: list[Live]) -> str | None:
    """What the first `{type}.described` calls it, else what its first telling fact implies."""
    for one in sorted(descriptions, key=_by_stamp):
        kind: str = one.entry["kind"]
        if kind.endswith(".described") and kind != "record.described":
            return kind.removesuffix(".described")
    for fact in facts:
        if "implies" in fact.view and fact.entry["about"] == record_id:
            return fact.view["implies"]
    return None
