"""What a lock screen may show, and what it may not."""

from __future__ import annotations

import json
from typing import Any

import pytest

from sporeline.kernel.record import Record
from sporeline.reminders.notices import (
    Notice,
    fern_words,
    label_of,
    push_body,
    say,
    texts,
    words_of,
)
from sporeline.reminders.push import LARGEST_BODY

SUBJECT = "01977a00-0000-7000-8000-000000000004"


def record(type: str | None, name: str | None = None, **fields: Any) -> Record:
    described = {"record.described": {"name": name, "note": "NOTE-CANARY"}, **fields}
    return {
        "id": SUBJECT,
        "type": type,
        "fields": described,
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


@pytest.mark.parametrize(
    ("rule", "title"),
    [
        ("first-look", "Box 4: first look"),
        ("green-film", "Box 4: how is the green film?"),
        ("still-nothing", "Box 4: still nothing?"),
        ("a-rule-somebody-wrote", "Box 4: something to look at"),
        ("with-fern", "Box 4: something to look at"),
    ],
)
def test_title_names_the_box_and_what_is_asked(rule: str, title: str) -> None:
    assert words_of(rule, record("box", "box 4"), [], 0, fern_names=True).title == title


@pytest.mark.parametrize(
    ("ferns", "start"),
    [
        ([], "Look through"),
        (["Dryopteris filix-mas"], "Dryopteris filix-mas. Look"),
        (["Dryopteris filix-mas"] * 2, "Dryopteris filix-mas. Look"),
        (["looks like Asplenium viride"], "Looks like Asplenium viride. Look"),
        (["Dryopteris filix-mas", "Asplenium viride"], "Dryopteris filix-mas and Asplenium vir"),
        (["Dryopteris filix-mas", "a", "b"], "Dryopteris filix-mas and others. Look"),
    ],
)
def test_the_fern_is_named_where_the_person_wants_it(ferns: list[str], start: str) -> None:
    subject = record("box", "box 4")
    shown = words_of("first-look", subject, ferns, 0, fern_names=True)
    hidden = words_of("first-look", subject, ferns, 0, fern_names=False)
    assert shown.body.startswith(start)
    assert hidden.body == "Look through the lid, then tap what you see."


@pytest.mark.parametrize(
    ("boxes", "body"),
    [
        (1, "One box to look at through the lid."),
        (12, "12 boxes to look at through the lid."),
    ],
)
def test_a_round_is_one_notice_for_the_shelf(boxes: int, body: str) -> None:
    notice = words_of("round", record("shelf", "north sill"), [], boxes, fern_names=True)
    assert notice == Notice("North sill: walk the shelf", body)


@pytest.mark.parametrize(
    ("kind", "name", "label"),
    [
        ("box", "box 31", "Box 31"),
        ("box", "31", "Box 31"),
        ("box", None, "A box"),
        ("box", "  ", "A box"),
        ("shelf", "Aunt's sill", "Aunt's sill"),
        ("packet", "packet 52", "Packet 52"),
        ("pots", "pots 60", "Pots 60"),
        ("plant", "PLACE-CANARY clump", "Something of yours"),
        ("place", "PLACE-CANARY", "Something of yours"),
        ("gathering", "PLACE-CANARY", "Something of yours"),
        ("sowing", "PLACE-CANARY", "Something of yours"),
        (None, "PLACE-CANARY", "Something of yours"),
        ("box", "a\nb\u202ec\x00d", "A b c d"),
        ("box", "x" * 200, "X" + "x" * 58 + "…"),
    ],
)
def test_given_names_that_may_tell_a_place_stay_away(
    kind: str | None, name: str | None, label: str
) -> None:
    assert label_of(record(kind, name)) == label


@pytest.mark.parametrize(
    ("naming", "words"),
    [
        (None, None),
        ({"taxon": None, "sure": "unknown"}, None),
        ({"taxon": "  "}, None),
        ({"taxon": "Dryopteris filix-mas", "sure": "certain"}, "Dryopteris filix-mas"),
        ({"taxon": "Asplenium viride", "qualifier": "cf"}, "looks like Asplenium viride"),
        ({"taxon": "Asplenium viride", "qualifier": "aff"}, "near Asplenium viride"),
        ({"taxon": "Asplenium ×alternifolium", "qualifier": "ex"}, "ex Asplenium ×alternifolium"),
        ({"taxon": "A. viride", "other": "A. trichomanes"}, "A. viride or A. trichomanes"),
        ({"taxon": "{body}", "qualifier": None}, "{body}"),
    ],
)
def test_fern_words(naming: dict[str, Any] | None, words: str | None) -> None:
    assert fern_words(naming) == words


def test_no_place_and_no_note_reaches_the_message() -> None:
    place = {"lat_e7": 473456789, "lon_e7": 85000000, "words": "PLACE-CANARY"}
    subject = record(
        "box", "box 4", **{"place.told": place, "place.fixed": place, "box.described": {}}
    )
    for rule in ("first-look", "round", "green-film", "still-nothing", "other"):
        notice = words_of(rule, subject, ["Dryopteris filix-mas"], 3, fern_names=True)
        body = push_body(notice, f"{SUBJECT}/{rule}/2026-06-01", SUBJECT, rule).decode()
        assert "CANARY" not in body
        assert "473456789" not in body


def test_the_message_is_a_declarative_notice() -> None:
    task = f"{SUBJECT}/first-look/2026-06-01"
    body = push_body(Notice("Grüße", "☀"), task, SUBJECT, "first-look")
    assert json.loads(body) == {
        "web_push": 8030,
        "notification": {
            "title": "Grüße",
            "body": "☀",
            "navigate": f"/answer?task={SUBJECT}%2Ffirst-look%2F2026-06-01",
            "tag": f"{SUBJECT}/first-look",
            "lang": "en",
        },
    }


def test_the_longest_names_fit_into_one_push() -> None:
    ferns = [fern_words({"taxon": "\U0001f33f" * 500, "other": "\U0001f33f" * 500}) or ""] * 3
    ferns[1] = "other"
    notice = words_of("r" * 200, record("box", "\U0001f33f" * 500), ferns, 10**9, fern_names=True)
    assert len(push_body(notice, f"{SUBJECT}/{'r' * 200}/2026-06-01", SUBJECT, "r" * 200)) < (
        LARGEST_BODY
    )


def test_every_text_that_is_filled_has_its_places() -> None:
    for rule in ("first-look", "round", "green-film", "still-nothing", "other"):
        assert "{label}" in str(texts()[f"notices.{rule}.title"])
    assert say("notices.round.body", n=2).startswith("2 ")
