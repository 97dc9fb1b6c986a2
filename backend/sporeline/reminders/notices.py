"""The words of a notice. It is read on a lock screen, by whoever holds the phone.

So it shows the word and number of a box, packet, pots or shelf, and the fern's name where the
person has not switched that off; never a place, a note, or the given name of a plant or place,
since those may tell where it stands.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any
from urllib.parse import quote

from sporeline.kernel.record import Record

DECLARATIVE = 8030
"""Marks a declarative push message: Safari shows it without the app, others hand it to the app."""

NAMED_ON_A_LOCK_SCREEN = frozenset({"box", "packet", "pots", "shelf"})
LONGEST_LABEL = 60
LONGEST_FERN = 100


@dataclass(frozen=True)
class Notice:
    """`title` names the thing and what is asked; `body` is one sentence."""

    title: str
    body: str


def words_of(
    rule: str, subject: Record, ferns: Sequence[str], boxes: int, *, fern_names: bool
) -> Notice:
    """What to say about a task.

    `ferns`: names as `fern_words` gives them; `boxes`: how many a round covers;
    `fern_names`: whether this person wants them on the lock screen.
    """
    known = rule if f"notices.{rule}.title" in texts() else "other"
    title = say(f"notices.{known}.title", label=label_of(subject))
    body = say(f"notices.{known}.body", n=boxes)
    if fern_names and ferns:
        body = say("notices.with-fern", fern=_listed(ferns), body=body)
    return Notice(title, body)


def push_body(notice: Notice, task: str, subject: str, rule: str) -> bytes:
    """The message as the phone gets it: a declarative notice, which every browser can show.

    The tag lets a newer notice of the same rule take the place of the older one.
    """
    shown = {
        "title": notice.title,
        "body": notice.body,
        "navigate": answer_path(task),
        "tag": f"{subject}/{rule}",
        "lang": "en",
    }
    message = {"web_push": DECLARATIVE, "notification": shown}
    return json.dumps(message, ensure_ascii=False, separators=(",", ":")).encode()


def answer_path(task: str) -> str:
    """Where the app answers a task."""
    return f"/answer?task={quote(task, safe='')}"


def label_of(record: Record) -> str:
    """“Box 31”, or only the word where a given name must not be shown or is not there."""
    kind = record["type"] or "other"
    name = record["fields"].get("record.described", {}).get("name")
    if kind in NAMED_ON_A_LOCK_SCREEN and isinstance(name, str) and name.strip():
        label = _one_line(name, LONGEST_LABEL)
        label = f"{kind} {label}" if label.isdecimal() else label
        return label[:1].upper() + label[1:]
    key = f"notices.a.{kind}"
    return say(key if key in texts() else "notices.a.other")


def fern_words(naming: Mapping[str, Any] | None) -> str | None:
    """A name as it may be read: with its doubt, without who said it. None = not named."""
    if not naming or not isinstance(naming.get("taxon"), str):
        return None
    fern = _one_line(naming["taxon"], LONGEST_FERN)
    if not fern:
        return None
    if isinstance(naming.get("other"), str) and naming["other"]:
        other = _one_line(naming["other"], LONGEST_FERN)
        return say("notices.fern-or", fern=fern, other=other)
    return say(_DOUBTS[doubt], fern=fern) if (doubt := naming.get("qualifier")) in _DOUBTS else fern


_DOUBTS = {
    "cf": "notices.fern-like",
    "aff": "notices.fern-near",
    "ex": "notices.fern-offspring",
}


def say(key: str, *, n: int | None = None, **named: str) -> str:
    """The text of `key` with its places filled; `n` chooses between one and other."""
    text = texts()[key]
    if isinstance(text, dict):
        text = text["one" if n == 1 else "other"]
    # Not str.format: a name may hold braces of its own.
    for name, value in {**named, "n": str(n)}.items():
        text = text.replace("{" + name + "}", value)
    return text


@cache
def texts() -> dict[str, str | dict[str, str]]:
    """The catalogue that the phone has too."""
    path = files("sporeline.contract") / "texts" / "notices.json"
    read: dict[str, str | dict[str, str]] = json.loads(path.read_text(encoding="utf-8"))
    return read


def _listed(ferns: Sequence[str]) -> str:
    distinct = list(dict.fromkeys(ferns))
    if len(distinct) == 1:
        listed = distinct[0]
    elif len(distinct) == 2:
        listed = say("notices.two-ferns", first=distinct[0], second=distinct[1])
    else:
        listed = say("notices.more-ferns", first=distinct[0])
    return listed[:1].upper() + listed[1:]


def _one_line(text: str, longest: int) -> str:
    """Printable characters of one line. Others could forge a second line or turn the text round."""
    line = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return line if len(line) <= longest else line[: longest - 1].rstrip() + "…"
