"""The calendar feed's address: secret, one per person, ended at once."""

from __future__ import annotations

from typing import Any

from flask import Flask
from phones import Phone, services_of
from sqlalchemy import insert, select

from sporeline.reminders.tables import calendar_feed, due_row

MINE = "/api/v1/me/calendar"
SUBJECT = "01977a00-0000-7000-8000-000000000004"


def opened(phone: Phone) -> str:
    answer = phone.post(MINE)
    assert answer.status_code == 201
    base, _, path = str(answer.json["url"]).partition("/calendar/")
    assert base == "https://ferns.example"
    return f"/calendar/{path}"


def fetch(app: Flask, path: str) -> Any:
    return app.test_client().get(path)


def due(phone: Phone, day: str = "2026-06-01", **changed: Any) -> None:
    row = {
        "logbook": phone.logbook,
        "task": f"{SUBJECT}/first-look/{day}",
        "person": phone.person,
        "subject": SUBJECT,
        "rule": "first-look",
        "due": day,
        "title": "Box 4: first look",
        "body": "Look through the lid.",
        "state": "open",
        "next_try": 0,
        "lease_until": 0,
        "tries": 0,
        "reached": "[]",
        "sequence": 0,
        "changed": services_of(phone.app).clocks.wall(),
    }
    with services_of(phone.app).database.write() as c:
        c.execute(insert(due_row).values({**row, **changed}))


def lines(app: Flask, path: str, start: str) -> list[str]:
    answer = fetch(app, path)
    assert answer.status_code == 200
    return [line for line in answer.text.split("\r\n") if line.startswith(start)]


def test_the_feed_needs_nothing_but_its_secret(app: Flask, owner: Phone) -> None:
    due(owner)
    answer = fetch(app, opened(owner))
    assert answer.status_code == 200
    assert answer.content_type == "text/calendar; charset=utf-8"
    assert answer.headers["Cache-Control"] == "private, no-store"
    assert "noindex" in answer.headers["X-Robots-Tag"]
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert "Set-Cookie" not in answer.headers
    assert "SUMMARY:Box 4: first look" in answer.text
    assert "Ferns of the Ostrel" in answer.text


def test_the_secret_is_long_and_only_its_hash_is_kept(app: Flask, owner: Phone) -> None:
    path = opened(owner)
    secret = path.removeprefix("/calendar/").removesuffix(".ics")
    assert len(secret) >= 22  # 128 bits in base64url
    with services_of(app).database.read() as c:
        row = c.execute(select(calendar_feed)).one()
    assert secret not in str(row)


def test_a_new_address_ends_the_former(app: Flask, owner: Phone) -> None:
    first, second = opened(owner), opened(owner)
    assert first != second
    assert fetch(app, first).status_code == 404
    assert fetch(app, second).status_code == 200


def test_ending_it(app: Flask, owner: Phone) -> None:
    path = opened(owner)
    assert owner.delete(MINE).status_code == 204
    assert fetch(app, path).status_code == 404
    assert owner.delete(MINE).status_code == 204


def test_wrong_secrets(app: Flask, owner: Phone) -> None:
    path = opened(owner)
    for wrong in (path[:-5] + "x.ics", "/calendar/.ics", "/calendar/x.ics", path.upper()):
        assert fetch(app, wrong).status_code in (404, 405)


def test_whether_anyone_reads_it(app: Flask, owner: Phone, wall: Any) -> None:
    assert owner.get(MINE).json == {"state": "off", "made": None, "fetched": None}
    path = opened(owner)
    made = wall.ms
    assert owner.get(MINE).json == {"state": "on", "made": made, "fetched": None}
    wall.forward(hours=1)
    fetch(app, path)
    assert owner.get(MINE).json == {"state": "on", "made": made, "fetched": wall.ms}


def test_each_sees_what_is_due_for_them_where_they_are_members(app: Flask, owner: Phone) -> None:
    other = owner.brings("grower")
    due(owner, "2026-06-01")
    due(other, "2026-06-02")
    mine, theirs = opened(owner), opened(other)
    assert lines(app, mine, "DTSTART") == ["DTSTART;VALUE=DATE:20260601"]
    assert lines(app, theirs, "DTSTART") == ["DTSTART;VALUE=DATE:20260602"]
    assert owner.delete(f"…/people/{other.person}").status_code == 204
    assert lines(app, theirs, "DTSTART") == []


def test_what_is_gone_is_cancelled_for_sixty_days(app: Flask, owner: Phone, wall: Any) -> None:
    path = opened(owner)
    due(owner, state="closed", sequence=1)
    assert lines(app, path, "STATUS") == ["STATUS:CANCELLED"]
    wall.forward(days=61)
    assert lines(app, path, "STATUS") == []


def test_no_session_no_address(app: Flask) -> None:
    client = app.test_client()
    for method in ("GET", "POST", "DELETE"):
        assert client.open(MINE, method=method).status_code == 401
