"""A logbook begun on a phone gets its place on the server."""

from __future__ import annotations

from phones import first_owner, services_of

BEGIN = "/api/v1/logbooks"


def test_who_begins_it_owns_it(app, owner):
    id = services_of(app).ids.new()
    answer = owner.post(BEGIN, {"id": id, "name": "Sill of spring"})
    assert (answer.status_code, answer.json) == (
        201,
        {"id": id, "name": "Sill of spring", "role": "owner"},
    )
    assert owner.get(f"{BEGIN}/{id}/people").json["people"][0]["id"] == owner.person


def test_beginning_it_again_changes_nothing(app, owner):
    id = services_of(app).ids.new()
    first = owner.post(BEGIN, {"id": id, "name": "Sill of spring"})
    second = owner.post(BEGIN, {"id": id, "name": "Another name"})
    assert (second.status_code, second.json) == (201, first.json)


def test_another_ones_id_cannot_be_used(app, owner):
    stranger = first_owner(app, "Other ferns")
    answer = owner.post(BEGIN, {"id": stranger.logbook, "name": "Mine now"})
    assert (answer.status_code, answer.json["code"]) == (409, "logbook-taken")
    assert "Other ferns" not in answer.get_data(as_text=True)
    assert owner.get(f"{BEGIN}/{stranger.logbook}/people").status_code == 404
    assert stranger.get("/api/v1/me").json["logbooks"][0]["name"] == "Other ferns"


def test_without_a_session_none_begins(app, client):
    answer = client.post(BEGIN, json={"id": services_of(app).ids.new(), "name": "x"})
    assert (answer.status_code, answer.json["code"]) == (401, "not-signed-in")
