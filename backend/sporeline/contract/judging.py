"""Is this an entry, and what is wrong with it? Judged from the entry alone.

What `faults_of` finds makes an entry *held*: stored, numbered and sent on, but counted nowhere.
Only what has no readable id is no entry at all (`is_entry`).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sporeline.contract.faults import Fault, fault, shown
from sporeline.contract.fields import SHA256, UUID7, check_day
from sporeline.contract.kinds import KERNEL_KINDS, KINDS
from sporeline.contract.moments import day_after, has_hour_shape, is_day
from sporeline.contract.stamps import is_stamp

LARGEST_ENTRY = 16 * 1024
"""Bytes of an entry's JSON text in UTF-8."""

MOST_ALSO = 200
MOST_SEEN = 1000
BESIDE = frozenset(("seq", "received", "state", "vouched", "via", "errors"))
"""What a server sets beside an entry; it travels with it and is no part of it."""

Entry = Mapping[str, Any]


def is_entry(value: object) -> bool:
    """Whether it can be kept at all: an object with a readable id."""
    return isinstance(value, dict) and isinstance(value.get("id"), str) and is_id(value["id"])


def is_id(text: str) -> bool:
    """A UUIDv7 in lower case."""
    return UUID7(text) is not None


def photo_of(entry: Entry) -> tuple[str, str] | None:
    """Hash and media type of the photo that an entry names, held or not; None when it names none.

    The type is empty where it is no text.
    """
    data = entry.get("data")
    photo = data.get("photo") if isinstance(data, dict) else None
    if entry.get("kind") != "photo.taken" or not isinstance(photo, dict):
        return None
    sha256, said = photo.get("sha256"), photo.get("type")
    if not isinstance(sha256, str) or not is_hash(sha256):
        return None
    return sha256, said if isinstance(said, str) else ""


def is_hash(text: str) -> bool:
    """A SHA-256 as 64 small hex digits."""
    return SHA256(text) is not None


def may_be_filed(entry: Entry) -> bool:
    """Whether it can be put to the records it names, held or not."""
    about = entry.get("about")
    return isinstance(entry.get("kind"), str) and isinstance(about, str) and is_id(about)


def records_of(entry: Entry) -> list[str]:
    """The records it is filed under, each once: `about` first, then those of `also`."""
    also = entry.get("also")
    if not isinstance(also, list):
        return [entry["about"]]
    named = [each for each in also if isinstance(each, str) and is_id(each)]
    return list(dict.fromkeys((entry["about"], *named[:MOST_ALSO])))


def faults_of(entry: Entry) -> list[Fault]:
    """All that is wrong with its envelope and its data. `by` and `device` are filled in before."""
    faults: list[Fault] = []
    _check_envelope(entry, faults)
    data = entry.get("data")
    if not isinstance(data, dict):
        faults.append(fault("not-an-object", "data", word="what was seen or set"))
        return faults
    name, v = entry.get("kind"), entry.get("v")
    kind = KINDS.get((name, v)) if isinstance(name, str) and type(v) is int else None
    if kind is None:
        faults.append(_unknown(name, v))
        return faults
    before = len(faults)
    kind.check(data, "data", faults)
    if kind.rule is not None and len(faults) == before:
        kind.rule(data, faults)
    if kind.nature == "description":
        _check_seen(entry.get("seen"), data, faults)
    return faults


def days_ahead(entry: Entry, today: str) -> list[Fault]:
    """`at` and `span.to` may be one day ahead of the server's day, for phones east of it.

    Asked once, at first receipt. `today`: `YYYY-MM-DD`. Days that are no days are found elsewhere.
    """
    limit, faults = day_after(today), []
    span = entry.get("span")
    told = span.get("to") if isinstance(span, dict) else None
    for where, value in (("at", entry.get("at")), ("span.to", told)):
        if isinstance(value, str) and value[:10] > limit and is_day(value[:10]):
            faults.append(fault("ahead-of-today", where, value=value[:10], today=today))
    return faults


def half_characters() -> Fault:
    """Text with a lone surrogate: JSON may escape it, but no UTF-8 can hold it (RFC 7493 §2.1)."""
    return fault("not-plain-text", "")


def _check_envelope(entry: Entry, faults: list[Fault]) -> None:
    for name in ("about", "by", "device"):
        value = entry.get(name)
        if not isinstance(value, str) or not UUID7(value):
            faults.append(_wrong_id(name, value))
    if not is_stamp(entry.get("made")):
        faults.append(fault("not-a-stamp", "made", value=shown(entry.get("made"))))
    _check_at(entry.get("at"), faults)
    if "also" in entry:
        _check_ids(entry["also"], "also", MOST_ALSO, faults)
    if "span" in entry:
        _check_span(entry["span"], entry.get("at"), faults)


def _wrong_id(where: str, value: Any) -> Fault:
    if value is None:
        return fault("missing", where, word="which record or person is meant")
    return fault("not-an-id", where, value=shown(value))


def _check_at(at: Any, faults: list[Fault]) -> None:
    if not isinstance(at, str) or not has_hour_shape(at[10:]):
        faults.append(fault("not-a-moment", "at", value=shown(at)))
    elif not is_day(at[:10]):
        check_day(at[:10], "at", faults)


def _check_ids(ids: Any, where: str, most: int, faults: list[Fault]) -> None:
    if not isinstance(ids, list):
        faults.append(fault("not-a-list", where, word="the records or entries"))
        return
    if len(ids) > most:
        faults.append(fault("too-many", where, most=most))
    met = set()
    for position, each in enumerate(ids):
        if not isinstance(each, str) or not UUID7(each):
            faults.append(fault("not-an-id", f"{where}.{position}", value=shown(each)))
        elif each in met:
            faults.append(fault("twice", where, value=each))
        else:
            met.add(each)


def _check_span(span: Any, at: Any, faults: list[Fault]) -> None:
    """A vague date: its last day, and how it was said."""
    if not isinstance(span, dict):
        faults.append(fault("not-an-object", "span", word="the time"))
        return
    said, to = span.get("said"), span.get("to")
    if not isinstance(said, str) or not 1 <= len(said) <= 200:
        faults.append(fault("not-text", "span.said", value=shown(said), word="the time"))
    before = len(faults)
    check_day(to, "span.to", faults)
    begins = at[:10] if isinstance(at, str) and is_day(at[:10]) else ""
    if len(faults) == before and str(to) < begins:
        faults.append(fault("ends-before-it-begins", "span", begin=begins, to=to))


def _check_seen(seen: Any, data: Mapping[str, Any], faults: list[Fault]) -> None:
    """A description says for exactly the fields it sets what its writer saw open for them."""
    if not isinstance(seen, dict) or seen.keys() != data.keys():
        faults.append(fault("seen-differs", "seen"))
        return
    for name, ids in seen.items():
        if ids != []:
            _check_ids(ids, f"seen.{shown(name)}", MOST_SEEN, faults)


def _unknown(name: Any, v: Any) -> Fault:
    if isinstance(name, str) and name in KERNEL_KINDS:
        return fault("unknown-version", "v", value=shown(v))
    return fault("unknown-kind", "kind", value=shown(name))
