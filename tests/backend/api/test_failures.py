"""Every error has one shape, and says what is safe and what to do."""

from __future__ import annotations

import json

import pytest
from phones import services_of
from sqlalchemy import text

from sporeline import errors
from sporeline.api.failures import answer as told


def shape(answer):
    body = answer.json
    assert set(body) == {"code", "message", "where", "fix"}, body
    assert body["message"].endswith(".")
    assert body["fix"].endswith(".")
    return answer.status_code, body["code"]


def test_not_there(client):
    assert shape(client.get("/api/v1/nothing")) == (404, "not-there")


def test_not_by_this_method(client):
    answer = client.post("/api/v1/time", json={})
    assert shape(answer) == (405, "method-not-allowed")
    assert "GET" in answer.headers["Allow"]


def test_too_large_for_any_call(client):
    answer = client.post("/api/v1/devices", data=b" " * 70_000, content_type="application/json")
    assert shape(answer) == (413, "too-large")


def test_a_mistake_of_ours_loses_nothing_and_tells_nothing(app, client, caplog, monkeypatch):
    def broken():
        raise ZeroDivisionError("a secret detail")

    monkeypatch.setattr(services_of(app).clocks, "now", broken)
    answer = client.get("/api/v1/time")
    assert shape(answer) == (500, "broken")
    assert "Nothing of yours was lost" in answer.json["message"]
    assert b"secret detail" not in answer.data
    assert "secret detail" in caplog.text


def test_a_full_disk_is_told_as_such(app, owner):
    database = services_of(app).database
    if database.kind == "postgresql":
        return told_by_postgresql(app, owner)
    with database.write() as c:
        pages = c.scalar(text("PRAGMA page_count"))
        c.execute(text(f"PRAGMA max_page_count = {pages}"))
    answers = [
        owner.post("/api/v1/logbooks", {"id": services_of(app).ids.new(), "name": "x" * 200})
        for _ in range(200)
    ]
    full = [answer for answer in answers if answer.status_code != 201]
    assert full, "the disk was never full"
    assert shape(full[0]) == (507, "server-full")
    assert full[0].headers["Retry-After"] == "60"
    kept = len(owner.get("/api/v1/me").json["logbooks"])
    assert kept == 1 + len(answers) - len(full), "an answer of 201 was not kept"
    with database.write() as c:
        c.execute(text("PRAGMA max_page_count = 1073741823"))
    assert (
        owner.post("/api/v1/logbooks", {"id": services_of(app).ids.new(), "name": "x"}).status_code
        == 201
    )


def told_by_postgresql(app, owner):
    """There is no small disk for it here, so it raises the error of one by itself."""
    raising = "DO $$ BEGIN RAISE EXCEPTION 'no room' USING ERRCODE = '53100'; END $$"
    with pytest.raises(errors.StorageFull), services_of(app).database.write() as c:
        c.execute(text(raising))
    assert owner.get("/api/v1/me").status_code == 200


def errors_on_the_wire():
    """All classes of the tree but those that only an operator sees."""
    found = [errors.SporelineError]
    for kind in found:
        found.extend(kind.__subclasses__())
    ours = [kind for kind in found if kind.__module__ == errors.__name__]
    return [kind for kind in ours if kind is not errors.CannotStart]


@pytest.mark.parametrize("kind", errors_on_the_wire(), ids=lambda kind: kind.__name__)
def test_each_error_says_what_happened_and_what_to_do(kind):
    error = kind("E", 7) if kind is errors.Diverged else kind()
    wire = error.on_the_wire()
    assert wire["code"] == wire["code"].lower().replace(" ", "-")
    assert wire["message"].endswith(".")
    assert wire["fix"].endswith(".")
    assert 400 <= kind.status < 600


def test_a_changed_history_names_the_epoch(app):
    with app.test_request_context("/"):
        body = json.loads(told(errors.Diverged("E2", 41)).data)
    assert (body["epoch"], body["head"], body["code"]) == ("E2", 41, "history-diverged")
