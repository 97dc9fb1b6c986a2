"""Sessions: long enough for a season without signal, ended without harm, secret at rest."""

from __future__ import annotations

import json

import pytest
from phones import opening, services_of
from sqlalchemy import select

from sporeline.people.tables import device, invitation

PAGE = {"Origin": "https://ferns.example", "Sec-Fetch-Site": "same-origin"}


@pytest.fixture
def phone(app, owner):
    """A phone's browser after joining: its cookie jar, for the https address of the server."""
    browser = app.test_client()
    body = opening(app, owner.invite("grower"))
    browser.joined = browser.post(
        "/api/v1/devices", json=body, headers=PAGE, base_url="https://ferns.example"
    )
    return browser


def get(browser, path):
    return browser.get(path, base_url="https://ferns.example")


def test_a_phone_gets_its_cookie_and_never_the_token(phone):
    assert phone.joined.status_code == 201
    assert "token" not in phone.joined.json
    assert get(phone, "/api/v1/me").status_code == 200


def test_the_cookie_is_locked_to_this_host_and_out_of_reach_of_scripts(phone):
    cookie = phone.joined.headers["Set-Cookie"]
    name, rest = cookie.split("=", 1)
    flags = {part.strip() for part in rest.split(";")[1:]}
    assert name == "__Host-sporeline"
    assert {"Secure", "HttpOnly", "Path=/", "SameSite=Lax"} <= flags
    assert not [flag for flag in flags if flag.startswith("Domain")]
    assert "Max-Age=34560000" in flags


def test_eighty_days_without_signal_are_nothing(owner, wall):
    assert owner.get("/api/v1/me").status_code == 200
    for _ in range(5):
        wall.forward(days=80)
        assert owner.get("/api/v1/me").status_code == 200


def test_ninety_days_without_a_sign_of_life_end_it(owner, wall):
    assert owner.get("/api/v1/me").status_code == 200
    wall.forward(days=90.1)
    answer = owner.get("/api/v1/me")
    assert (answer.status_code, answer.json["code"]) == (401, "not-signed-in")
    assert answer.headers["WWW-Authenticate"] == "Bearer"


def test_a_sign_of_life_renews_the_cookie_now_and_then(phone, wall):
    assert "Set-Cookie" in get(phone, "/api/v1/me").headers
    assert "Set-Cookie" not in get(phone, "/api/v1/me").headers
    wall.forward(hours=1.1)
    assert "Max-Age=34560000" in get(phone, "/api/v1/me").headers["Set-Cookie"]


def test_signing_out_ends_the_session_and_nothing_else(phone, owner):
    answer = phone.delete("/api/v1/session", headers=PAGE, base_url="https://ferns.example")
    assert answer.status_code == 204
    assert "Max-Age=0" in answer.headers["Set-Cookie"]
    assert get(phone, "/api/v1/me").status_code == 401
    assert len(owner.get("…/people").json["people"]) == 2


def test_a_stolen_cookie_is_dead_after_signing_out(app, owner):
    stolen = owner.token
    owner.delete("/api/v1/session")
    answer = app.test_client().get("/api/v1/me", headers={"Authorization": f"Bearer {stolen}"})
    assert answer.status_code == 401


@pytest.mark.parametrize("given", ["", "Bearer", "Bearer x", "Basic eDp5", "Bearer \x7f"])
def test_no_session_without_a_token(client, given):
    answer = client.get("/api/v1/me", headers={"Authorization": given})
    assert (answer.status_code, answer.json["code"]) == (401, "not-signed-in")


def test_neither_tokens_nor_codes_stand_in_the_database(app, owner):
    code = owner.invite("grower")
    with services_of(app).database.read() as c:
        rows = [
            dict(row)
            for table in (device, invitation)
            for row in c.execute(select(table)).mappings()
        ]
    everything = json.dumps(rows)
    assert len(rows) >= 3
    for secret in (owner.token, code, code.replace("-", "")):
        assert secret not in everything


def test_tokens_have_256_bits(owner):
    assert len(owner.token) == 43  # base64 of 32 bytes
