"""One round trip: each rule of it, on both databases."""

from __future__ import annotations

import gzip
import json
from typing import Any

import pytest
from phones import Phone, first_owner

from tests.backend.conftest import NOON, Wall
from tests.backend.pens import Pen, content, new_id


@pytest.fixture
def pen(owner: Phone) -> Pen:
    return Pen(owner)


def test_numbers_are_given_in_the_order_sent(pen: Pen) -> None:
    first, second = pen.entry(), pen.entry()
    answer = pen.bring(first, second)
    assert answer["stored"] == [
        {"id": first["id"], "seq": 1, "state": "stored", "received": NOON, "errors": []},
        {"id": second["id"], "seq": 2, "state": "stored", "received": NOON, "errors": []},
    ]
    assert answer["refused"] == []
    assert answer["cursor"]["seq"] == 2
    assert answer["cursor"]["entry"] == second["id"]
    assert answer["more"] is False


def test_what_was_just_brought_does_not_come_back(owner: Phone, pen: Pen) -> None:
    others = Pen(owner.brings("grower")).entry
    theirs = Pen(owner.further())
    theirs.bring(entry := theirs.entry())
    mine = pen.entry()
    answer = pen.bring(mine)
    assert [line["id"] for line in answer["entries"]] == [entry["id"]]
    assert [line["id"] for line in pen.bring()["entries"]] == [entry["id"], mine["id"]]
    assert others  # a further member changes nothing of it


def test_the_same_request_has_the_same_answer_with_again(pen: Pen, wall: Wall) -> None:
    entries = [pen.entry(), pen.entry(data={"ripeness": "brownish"}), {"id": "x"}]
    first = pen.bring(*entries)
    wall.forward(days=7)
    second = pen.bring(*entries)
    assert second["stored"] == [{**line, "again": True} for line in first["stored"]]
    assert second["refused"] == first["refused"]
    assert second["cursor"] == first["cursor"]
    assert second["numbers"] == first["numbers"]
    assert len(pen.pull()) == 2


def test_the_worked_example(owner: Phone, wall: Wall) -> None:
    pen = Pen(owner)
    answer = pen.bring(entry := pen.entry(data={"ripeness": "brownish"}))
    (held,) = answer["stored"]
    assert (held["state"], held["seq"]) == ("held", 1)
    assert held["errors"] == [
        {
            "code": "not-one-of",
            "where": "data.ripeness",
            "message": "“brownish” is not a ripeness.",
            "fix": "Choose none, young, turning, ripe, spent or unseen.",
        }
    ]
    (line,) = Pen(owner.further()).pull()
    assert content(line) == entry
    assert (line["state"], line["errors"]) == ("held", held["errors"])


def test_content_comes_back_as_it_was_sent(owner: Phone, pen: Pen) -> None:
    odd = pen.entry(
        "record.described",
        {"name": 'Grünes Tal \N{HERB} ‘x’ " \\ \u2028 \u0000', "new": {"a": [1, None, True, {}]}},
        later={"π": 3, "zero": -0, "big": 2**53 - 1},
    )
    pen.bring(odd)
    (line,) = Pen(owner.further()).pull()
    assert content(line) == odd
    assert line["state"] == "stored"


def test_half_a_character_is_held_and_comes_back_whole(owner: Phone, pen: Pen) -> None:
    odd = pen.entry("record.described", {"name": "fern \ud83c"})
    (verdict,) = pen.bring(odd)["stored"]
    assert [error["code"] for error in verdict["errors"]] == ["not-plain-text"]
    (line,) = Pen(owner.further()).pull()
    assert content(line) == odd
    assert pen.bring(odd)["stored"][0]["again"] is True


def test_who_wrote_it_is_filled_in_first(owner: Phone, pen: Pen) -> None:
    entry = pen.entry(by=..., device=...)
    pen.bring(entry)
    (line,) = pen.pull()
    assert content(line) == {**entry, "by": owner.person, "device": owner.device}
    assert line["vouched"] is True
    assert pen.bring(entry)["stored"][0]["again"] is True


def test_the_order_of_members_does_not_make_another_entry(pen: Pen) -> None:
    entry = pen.entry()
    pen.bring(entry)
    turned = dict(reversed(entry.items()))
    assert pen.bring(turned)["stored"][0]["again"] is True


@pytest.mark.parametrize("changed", [{"at": "2026-04-30"}, {"v": True}, {"v": 1.5}, {"more": None}])
def test_an_id_used_for_something_else_is_refused(pen: Pen, changed: dict[str, Any]) -> None:
    entry = pen.entry()
    pen.bring(entry)
    answer = pen.bring(pen.entry(), {**entry, **changed})
    (refused,) = answer["refused"]
    assert (refused["code"], refused["id"], refused["index"]) == ("id-reused", entry["id"], 1)
    assert len(answer["stored"]) == 1
    assert {line["id"]: content(line) for line in pen.pull()}[entry["id"]] == entry


def test_one_that_equals_in_numbers_is_the_same(pen: Pen) -> None:
    entry = pen.entry(later={"n": 1})
    pen.bring(entry)
    assert pen.bring({**entry, "later": {"n": 1.0}})["stored"][0]["again"] is True


def test_twice_in_one_request(pen: Pen) -> None:
    entry = pen.entry()
    answer = pen.bring(entry, entry, {**entry, "at": "2026-04-30"})
    assert [line["seq"] for line in answer["stored"]] == [1, 1]
    assert [line.get("again") for line in answer["stored"]] == [None, True]
    assert [each["code"] for each in answer["refused"]] == ["id-reused"]


@pytest.mark.parametrize("nothing", [None, 7, "x", [], {}, {"id": 7}, {"id": "a1"}])
def test_what_has_no_readable_id_is_refused_by_its_place(pen: Pen, nothing: Any) -> None:
    answer = pen.bring(pen.entry(), nothing)
    (refused,) = answer["refused"]
    assert (refused["code"], refused["index"]) == ("not-an-entry", 1)
    assert "id" not in refused
    assert len(answer["stored"]) == 1


def test_16_kib_and_not_a_byte_more(pen: Pen) -> None:
    entry = pen.entry("record.described", {"name": "x"}, later="")
    room = 16 * 1024 - len(json.dumps(entry, separators=(",", ":")).encode())
    fits = {**entry, "later": "x" * room}
    over = {**entry, "id": new_id(), "later": "ü" * (room // 2) + "xx"}
    answer = pen.bring(fits, over)
    assert [line["state"] for line in answer["stored"]] == ["stored"]
    assert [(each["code"], each["id"]) for each in answer["refused"]] == [("too-large", over["id"])]


@pytest.mark.parametrize("text", ['{"later":1e999}', '{"later":' + "[" * 400 + "]" * 400 + "}"])
def test_what_cannot_be_written_down_again_is_refused(pen: Pen, text: str) -> None:
    entry = pen.entry() | json.loads('{"later":0}')
    body = {"cursor": None, "high": None, "entries": [entry, pen.entry()]}
    raw = json.dumps(body).replace('"later": 0', text[1:-1])
    answer = pen.send(raw.encode()).json
    assert [each["code"] for each in answer["refused"]] == ["not-an-entry"]
    assert len(answer["stored"]) == 1


def test_what_is_said_beside_is_no_part_of_it(pen: Pen) -> None:
    entry = pen.entry()
    beside = {"seq": 99, "state": "held", "vouched": False, "via": new_id(), "errors": ["x"]}
    pen.bring({**entry, **beside})
    (line,) = pen.pull()
    assert content(line) == entry
    assert (line["seq"], line["state"], line["vouched"]) == (1, "stored", True)
    assert "errors" not in line
    assert pen.bring(entry)["stored"][0]["again"] is True


def test_an_earlier_receipt_is_kept(owner: Phone, pen: Pen) -> None:
    entry = pen.entry(by=new_id())
    assert pen.bring({**entry, "received": NOON - 5000})["stored"][0]["received"] == NOON - 5000
    assert pen.bring({**entry, "received": NOON - 3000})["stored"][0]["received"] == NOON - 5000
    assert pen.bring({**entry, "received": NOON - 9000})["stored"][0]["received"] == NOON - 9000
    assert [line["received"] for line in pen.pull()] == [NOON - 9000]


@pytest.mark.parametrize("claimed", [NOON + 1, -1, 0, "then", True, None, 1.5])
def test_a_receipt_that_cannot_be_is_not_believed(pen: Pen, claimed: Any) -> None:
    assert pen.bring({**pen.entry(), "received": claimed})["stored"][0]["received"] == NOON


def test_an_author_vouches_for_what_another_brought(owner: Phone, pen: Pen) -> None:
    theirs = Pen(owner.brings("grower"))
    entry = theirs.entry()
    pen.bring(entry)
    (line,) = pen.pull()
    assert (line["vouched"], line["via"]) == (False, owner.device)
    theirs.bring(entry)
    (line,) = pen.pull()
    assert line["vouched"] is True
    assert "via" not in line
    pen.bring(entry)
    assert pen.pull()[0]["vouched"] is True


def test_the_day_is_judged_once_at_first_receipt(pen: Pen, wall: Wall) -> None:
    tomorrow, later = pen.entry(at="2026-05-03"), pen.entry(at="2026-05-04")
    states = [line["state"] for line in pen.bring(tomorrow, later)["stored"]]
    assert states == ["stored", "held"]
    wall.forward(days=5)
    again = pen.bring(later)["stored"][0]
    assert (again["state"], again["errors"][0]["code"]) == ("held", "ahead-of-today")


def test_pages_go_on_where_they_ended(pen: Pen) -> None:
    ids = [pen.bring(entry := pen.entry()) and entry["id"] for _ in range(7)]
    first = pen.bring(limit=3)
    assert [line["id"] for line in first["entries"]] == ids[:3]
    assert (first["more"], first["cursor"]["seq"]) == (True, 3)
    second = pen.bring(cursor=first["cursor"], high=first["cursor"], limit=4)
    assert [line["id"] for line in second["entries"]] == ids[3:]
    assert second["more"] is False
    third = pen.bring(cursor=second["cursor"], high=second["cursor"])
    assert (third["entries"], third["cursor"]) == ([], second["cursor"])


def test_a_page_holds_at_most_one_mib(pen: Pen) -> None:
    big = [pen.entry("record.described", {"name": "x"}, later="x" * 15_000) for _ in range(80)]
    pen.bring(*big[:40])
    pen.bring(*big[40:])
    first = pen.bring()
    assert first["more"] is True
    assert 60 < len(first["entries"]) < 75
    assert len(pen.pull()) == 80


def test_before_the_first_entry(pen: Pen) -> None:
    answer = pen.bring()
    assert answer["cursor"]["seq"] == 0
    assert answer["cursor"]["entry"] is None
    again = pen.bring(cursor=answer["cursor"], high=answer["cursor"])
    assert (again["entries"], again["more"], again["cursor"]) == ([], False, answer["cursor"])


def test_what_stands_beside(pen: Pen) -> None:
    answer = pen.bring(now="2031-01-01T00:00:00Z", unsent={"count": 0, "oldest": None})
    assert answer["server_now"] == "2026-05-02T12:00:00Z"
    assert (answer["today"], answer["shift_days"]) == ("2026-05-02", 0)
    assert answer["backed_up"] is None
    assert answer["outlooks"] == []


@pytest.mark.parametrize("place", ["cursor", "high"])
@pytest.mark.parametrize("wrong", [{"epoch": "other"}, {"seq": 3}, {"seq": 1}, {"entry": None}])
def test_a_place_that_is_not_in_this_history(pen: Pen, place: str, wrong: dict[str, Any]) -> None:
    pen.bring(pen.entry())
    good = pen.bring(pen.entry())["cursor"]
    new = pen.entry()
    answer = pen.ask(new, **{"cursor": good, "high": good, place: {**good, **wrong}})
    assert answer.status_code == 409
    assert answer.json["code"] == "history-diverged"
    assert (answer.json["epoch"], answer.json["head"]) == (good["epoch"], 2)
    assert pen.digest(new["id"])["lacks"] == [new["id"]]


def test_a_place_where_nothing_was_ever_written(pen: Pen) -> None:
    place = {"epoch": "other", "seq": 5, "entry": new_id()}
    answer = pen.ask(cursor=place, high=place)
    assert (answer.status_code, answer.json["code"]) == (409, "history-diverged")


def test_answers_are_packed_for_who_takes_it(pen: Pen) -> None:
    pen.bring(*(pen.entry() for _ in range(20)))
    answer = pen.phone.post(
        "…/exchange",
        {"cursor": None, "high": None, "entries": []},
        headers={"Accept-Encoding": "gzip"},
    )
    assert answer.headers["Content-Encoding"] == "gzip"
    assert len(json.loads(gzip.decompress(answer.data))["entries"]) == 20


def test_members_alone(owner: Phone, pen: Pen, client: Any) -> None:
    entry = pen.entry()
    path = f"/api/v1/logbooks/{owner.logbook}/exchange"
    body = {"cursor": None, "high": None, "entries": [entry]}
    assert client.post(path, json=body).status_code == 401
    stranger = first_owner(owner.app)
    answer = stranger.post(path, body)
    assert (answer.status_code, answer.json["code"]) == (404, "no-such-logbook")
    assert pen.digest(entry["id"])["lacks"] == [entry["id"]]


def test_logbooks_know_nothing_of_each_other(owner: Phone, pen: Pen) -> None:
    other = Pen(first_owner(owner.app))
    entry = pen.entry()
    pen.bring(entry, pen.entry())
    assert other.pull() == []
    other.bring(theirs := other.entry())
    assert other.digest(entry["id"], theirs["id"])["lacks"] == [entry["id"]]
    (verdict,) = other.bring({**entry, "at": "2026-04-01"})["stored"]
    assert (verdict["seq"], "again" in verdict) == (2, False)
    assert len(pen.pull()) == 2
