"""What every request must pass and every answer carries."""

from __future__ import annotations

import gzip
from dataclasses import replace

import pytest
from phones import opening, services_of

from sporeline.app import create_app

OURS = "https://ferns.example"
ALWAYS = {"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer"}
ON_PAGES = {
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "geolocation=(self), camera=(self), microphone=(), payment=(), usb=()",
}


@pytest.fixture
def phone(app, owner):
    """A browser that holds a session's cookie."""
    made = app.test_client()
    body = opening(app, owner.invite("grower"))
    answer = made.post("/api/v1/devices", json=body, base_url=OURS, headers={"Origin": OURS})
    assert answer.status_code == 201
    return made


def sign_out(phone, headers):
    return phone.delete("/api/v1/session", base_url=OURS, headers=headers)


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"Origin": "https://moss.example"},
        {"Origin": "null"},
        {"Origin": "http://ferns.example"},
        {"Origin": "https://ferns.example.moss.example"},
        {"Sec-Fetch-Site": "cross-site", "Origin": OURS},
        {"Sec-Fetch-Site": "same-site"},
        {"Sec-Fetch-Site": "none"},
    ],
)
def test_another_sites_page_changes_nothing(phone, headers):
    answer = sign_out(phone, headers)
    assert (answer.status_code, answer.json["code"]) == (403, "cross-origin")
    assert phone.get("/api/v1/me", base_url=OURS).status_code == 200


@pytest.mark.parametrize(
    "headers", [{"Origin": OURS}, {"Sec-Fetch-Site": "same-origin", "Origin": OURS}]
)
def test_our_own_page_may(phone, headers):
    assert sign_out(phone, headers).status_code == 204


def test_the_address_that_was_really_asked_is_ours_too(app, owner):
    """A server reached by localhost, whatever its public address."""
    made = app.test_client()
    here = "http://localhost:8800"
    body = opening(app, owner.invite("grower"))
    answer = made.post("/api/v1/devices", json=body, base_url=here, headers={"Origin": here})
    assert answer.status_code == 201


def test_joining_by_another_sites_page_is_refused(app, client, owner):
    body = opening(app, owner.invite("grower"))
    answer = client.post("/api/v1/devices", json=body, headers={"Origin": "https://moss.example"})
    assert (answer.status_code, answer.json["code"]) == (403, "cross-origin")
    assert "Set-Cookie" not in answer.headers


def test_a_form_of_another_kind_is_not_read(phone):
    answer = phone.post(
        "/api/v1/logbooks",
        base_url=OURS,
        headers={"Origin": OURS},
        data="{}",
        content_type="text/plain",
    )
    assert (answer.status_code, answer.json["code"]) == (400, "not-json")


def test_every_answer_of_every_route_carries_the_headers(app, client):
    walked = 0
    for rule in app.url_map.iter_rules():
        path = rule.rule.replace("<", "").replace(">", "").replace(":", "")
        for method in rule.methods:
            answer = client.open(path, method=method, json={})
            for name, value in ALWAYS.items():
                assert answer.headers.get(name) == value, (method, path, name)
            assert "default-src 'none'" in answer.headers["Content-Security-Policy"], path
            assert "frame-ancestors 'none'" in answer.headers["Content-Security-Policy"], path
            walked += 1
    assert walked > 30


def test_pages_carry_more(client):
    for path in ("/", "/bench/sow", "/sw.js", "/gone.js"):
        answer = client.get(path)
        for name, value in ON_PAGES.items():
            assert answer.headers.get(name) == value, (path, name)


def test_calls_carry_no_more_than_they_need(owner):
    """One more entry on a weak signal must not weigh as much as its headers."""
    headers = owner.get("/api/v1/me").headers
    assert sum(len(f"{name}: {value}\r\n") for name, value in headers.items()) < 400


def test_the_policy_of_pages(client):
    rules = dict(
        rule.split(" ", 1)
        for rule in client.get("/").headers["Content-Security-Policy"].split("; ")
        if " " in rule
    )
    assert rules["script-src"] == "'self' 'wasm-unsafe-eval'"
    assert rules["require-trusted-types-for"] == "'script'"
    assert rules["trusted-types"] == "app"
    assert rules["style-src"] == rules["connect-src"] == rules["worker-src"] == "'self'"
    assert rules["frame-ancestors"] == rules["base-uri"] == rules["object-src"] == "'none'"
    assert not [rule for rule in rules.values() if "unsafe-inline" in rule or "*" in rule]


def test_https_is_insisted_on_only_where_it_is(client, settings, tmp_path, wall):
    secure = client.get("/").headers
    assert "Strict-Transport-Security" in secure
    assert "upgrade-insecure-requests" in secure["Content-Security-Policy"]
    plain_settings = replace(
        settings,
        public_url="http://localhost:8800",
        data_dir=tmp_path / "plain",
        database_url=f"sqlite:///{tmp_path / 'plain' / 'sporeline.db'}",
    )
    app = create_app(plain_settings, wall=wall)
    plain = app.test_client().get("/").headers
    services_of(app).database.close()
    assert "Strict-Transport-Security" not in plain
    assert "upgrade-insecure-requests" not in plain["Content-Security-Policy"]


def test_answers_of_calls_are_never_stored_on_the_way(client, owner):
    for answer in (client.get("/api/health"), owner.get("/api/v1/me"), client.get("/api/v1/me")):
        assert answer.headers["Cache-Control"] == "no-store"


def test_long_answers_travel_packed(client):
    packed = client.get("/api/v1/openapi.json", headers={"Accept-Encoding": "gzip"})
    plain = client.get("/api/v1/openapi.json")
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.data) == plain.data
    assert packed.headers["Vary"] == plain.headers["Vary"] == "Accept-Encoding"


def test_a_proxy_is_believed_only_when_it_is_ours(settings, wall, app):
    """The address that tries are counted by cannot be made up."""
    services_of(app).database.close()
    behind = create_app(replace(settings, proxies=1), wall=wall)
    try:
        client = behind.test_client()
        made_up = [f"192.0.2.{n}, 198.51.100.7" for n in range(11)]
        answers = [
            client.post(
                "/api/v1/devices",
                json=opening(behind, "2222-2222"),
                headers={"X-Forwarded-For": each},
            ).status_code
            for each in made_up
        ]
        assert answers == [404] * 10 + [429]
    finally:
        services_of(behind).database.close()
