"""A phone joins, says who it is, signs out."""

from __future__ import annotations

from phones import first_owner, opening, services_of

from sporeline.people import Offer


def test_a_script_joins_and_gets_a_bearer(app, owner):
    code = owner.invite("grower")
    body = opening(app, code, "Ines Halm", "IH")
    answer = app.test_client().post("/api/v1/devices", json=body)
    assert answer.status_code == 201
    assert answer.json["person"] == body["person"]
    assert answer.json["device"] == body["device"]
    assert answer.json["logbook"] == {"id": owner.logbook, "name": "Ferns of the Ostrel"}
    bearer = {"Authorization": f"Bearer {answer.json['token']}"}
    me = app.test_client().get("/api/v1/me", headers=bearer).json
    assert me["person"] == body["person"]
    assert [book["role"] for book in me["logbooks"]] == ["grower"]
