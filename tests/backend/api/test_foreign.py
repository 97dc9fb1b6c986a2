"""Every route of every family, walked with a logbook that is not one's own.

A new family needs no line here: the routes are read from the app.
"""

from __future__ import annotations

import re

import pytest
from phones import first_owner

ABSENT = "0190a000-0000-7000-8000-000000000009"
"""An id like any other, of nothing that exists."""


def routes(app, below):
    """`(method, path with {logbook})` of every route below a path, its other parts filled in."""
    for rule in app.url_map.iter_rules():
        if rule.rule.startswith(below):
            path = re.sub(r"<(?:[^:<>]*:)?logbook>", "{logbook}", rule.rule)
            path = re.sub(r"<[^<>]*\bsha256>", "0" * 64, path)
            path = re.sub(r"<[^<>]*>", ABSENT, path)
            for method in sorted(rule.methods - {"OPTIONS"}):
                yield method, path


@pytest.fixture
def logbook_routes(app):
    found = sorted(set(routes(app, "/api/v1/logbooks/<")))
    assert len(found) >= 10, "the routes were not found: this test would prove nothing"
    assert all("{logbook}" in path for _, path in found)
    return found


def test_a_foreign_logbook_is_as_if_it_did_not_exist(app, owner, logbook_routes):
    stranger = first_owner(app, "Other ferns")
    for method, path in logbook_routes:
        theirs = owner.call(method, path.format(logbook=stranger.logbook), json={})
        absent = owner.call(method, path.format(logbook=ABSENT), json={})
        assert theirs.status_code == 404, (method, path)
        assert theirs.data == absent.data, (method, path)
        if method != "HEAD":
            assert theirs.json["code"] == "no-such-logbook", (method, path)


def test_without_a_session_every_logbook_is_closed(app, client, owner, logbook_routes):
    for method, path in logbook_routes:
        for logbook in (owner.logbook, ABSENT):
            answer = client.open(path.format(logbook=logbook), method=method, json={})
            assert answer.status_code == 401, (method, path)


def test_a_phone_that_was_shut_out_gets_nowhere(app, owner, logbook_routes):
    grower = owner.brings("grower")
    owner.delete(f"…/devices/{grower.device}")
    for method, path in logbook_routes:
        answer = grower.call(method, path.format(logbook=owner.logbook), json={})
        assert answer.status_code == 401, (method, path)
        if method != "HEAD":
            assert answer.json["code"] == "shut-out", (method, path)


def test_whoever_was_removed_gets_nowhere(app, owner, logbook_routes):
    grower = owner.brings("grower")
    owner.delete(f"…/people/{grower.person}")
    for method, path in logbook_routes:
        answer = grower.call(method, path.format(logbook=owner.logbook), json={})
        assert answer.status_code == 404, (method, path)


def test_calls_without_a_logbook_need_a_session_but_for_a_few(app, client):
    """What is open to all is named here, on purpose."""
    for_all = {
        "/api/health",
        "/api/v1/time",
        "/api/v1/openapi.json",
        "/api/v1/devices",
        "/api/v1/operator/invitations",
        "/api/v1/push/key",
    }
    walked = 0
    for method, path in routes(app, "/api/"):
        if path not in for_all and "{logbook}" not in path:
            answer = client.open(path, method=method, json={})
            assert answer.status_code == 401, (method, path)
            walked += 1
    assert walked >= 3
