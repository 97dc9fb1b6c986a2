"""Which entries concern which record, and the records folded from them."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

from sqlalchemy import Connection, select

from sporeline.contract.judging import may_be_filed, photo_of, records_of
from sporeline.contract.kinds import KERNEL_KINDS
from sporeline.kernel.fold import fold
from sporeline.logbook.heads import among, insert_of
from sporeline.logbook.tables import entry, filing, is_held, moved, photo_named, record

Entry = dict[str, Any]

AT_ONCE = 500
"""Records folded with one reading of the log."""

LEFT_OUT = ("facts", "heads")
"""Parts of a folded record that grow with its entries; who needs them folds them."""

_write = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), check_circular=False).encode


def file_entries(c: Connection, key: int, filed: Mapping[int, Iterable[str]]) -> None:
    """Put numbers to the records they concern."""
    rows = [
        {"key": key, "record": each, "seq": seq}
        for seq, each_of in filed.items()
        for each in each_of
    ]
    if rows:
        c.execute(filing.insert(), rows)


def name_photos(c: Connection, key: int, entries: Iterable[Mapping[str, Any]]) -> None:
    """Note which photos are named; the first to name one says what type it is."""
    named: dict[str, str] = {}
    for sha256, said in filter(None, map(photo_of, entries)):
        named.setdefault(sha256, said)
    rows = [{"key": key, "sha256": sha256, "type": said} for sha256, said in named.items()]
    if rows:
        c.execute(insert_of(c, photo_named).on_conflict_do_nothing(), rows)


@dataclass(frozen=True)
class Refold:
    """Records to be folded again. `changed`: the head that this makes.

    `new`: number to entry of what was written just now, with `state` and `received` beside it;
    `filed`: number to the records it concerns.
    `recent`: whole records as they were before that; brought up to date here.
    """

    touched: Collection[str]
    changed: int
    new: Mapping[int, Entry] = field(default_factory=dict)
    filed: Mapping[int, Iterable[str]] = field(default_factory=dict)
    recent: dict[str, list[Entry]] = field(default_factory=dict)


def refold(c: Connection, key: int, wanted: Refold) -> None:
    """Fold these records again, each once."""
    upsert = insert_of(c, record)
    upsert = upsert.on_conflict_do_update(
        index_elements=["key", "id"],
        set_={name: upsert.excluded[name] for name in ("type", "body", "changed")},
    )
    _add_new(wanted)
    for ids in _chunks(sorted(wanted.touched)):
        _read_missing(c, key, ids, wanted)
        rows = [_folded(key, each, wanted.recent[each], wanted.changed) for each in ids]
        c.execute(upsert, rows)


def renumber(c: Connection, key: int, seq: int, new_seq: int) -> list[str]:
    """Give an entry a new number, so that it is delivered again; the records that it concerns.

    Cursors that point to its old number stay good.
    """
    here = (entry.c.key == key) & (entry.c.seq == seq)
    row = c.execute(select(entry.c.id, entry.c.text).where(here)).one()
    c.execute(entry.update().where(here).values(seq=new_seq))
    c.execute(moved.insert().values(key=key, seq=seq, id=row.id))
    content = json.loads(row.text)
    records = records_of(content) if may_be_filed(content) else []
    filed = (filing.c.key == key) & among(c, filing.c.record, records) & (filing.c.seq == seq)
    c.execute(filing.update().where(filed).values(seq=new_seq))
    return records


def beside(text: str, received: int, held: object) -> Entry:
    """The entry of this text with what the server says beside it, as the fold takes it."""
    content: Entry = json.loads(text)
    content["received"] = received
    content["state"] = "held" if held else "stored"
    return content


def _add_new(wanted: Refold) -> None:
    for seq, records in wanted.filed.items():
        for each in records:
            if each in wanted.recent:
                wanted.recent[each].append(wanted.new[seq])


def _read_missing(c: Connection, key: int, ids: list[str], wanted: Refold) -> None:
    """Read what is not known of these records; the ones used now become the most recent."""
    recent = wanted.recent
    missing = [each for each in ids if each not in recent]
    for each in ids:
        recent[each] = recent.pop(each, [])
    read = dict(wanted.new)
    for record_id, seq, received, held, text in _filed_under(c, key, missing) if missing else ():
        content = read.get(seq)
        if content is None:
            content = read[seq] = beside(text, received, held)
        recent[record_id].append(content)


def _filed_under(c: Connection, key: int, ids: list[str]) -> Sequence[Any]:
    query = (
        select(filing.c.record, filing.c.seq, entry.c.received, is_held, entry.c.text)
        .join(entry, (entry.c.key == filing.c.key) & (entry.c.seq == filing.c.seq))
        .where(filing.c.key == key, among(c, filing.c.record, ids))
    )
    return c.execute(query).all()


def _folded(key: int, id: str, entries: list[Entry], changed: int) -> dict[str, Any]:
    folded = fold(id, entries, KERNEL_KINDS)
    body = {name: part for name, part in folded.items() if name not in LEFT_OUT}
    return {
        "key": key,
        "id": id,
        "type": folded["type"],
        "body": _write(body),
        "changed": changed,
    }


def _chunks(ids: list[str]) -> Iterator[list[str]]:
    left = iter(ids)
    while chunk := list(islice(left, AT_ONCE)):
        yield chunk
