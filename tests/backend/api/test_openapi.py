"""The description of the calls is whole."""

from __future__ import annotations

import re

import pytest


@pytest.fixture
def described(client):
    answer = client.get("/api/v1/openapi.json")
    assert answer.status_code == 200
    return answer.json


def test_every_call_is_described(app, described):
    walked = 0
    for rule in app.url_map.iter_rules():
        path = re.sub(r"<(?:[^:<>]*:)?([^<>]*)>", r"{\1}", rule.rule)
        if rule.rule.startswith("/api/") and path != "/api/v1/openapi.json":
            methods = {method.lower() for method in rule.methods} & {
                "get", "put", "post", "patch", "delete"
            }  # fmt: skip
            assert methods <= set(described["paths"][path]), path
            for method in methods:
                call = described["paths"][path][method]
                assert call["summary"], (method, path)
                walked += 1
    assert walked > 20


def test_bodies_and_errors_are_described(described):
    join = described["paths"]["/api/v1/devices"]["post"]
    assert join["requestBody"]["content"]["application/json"]["schema"]["$ref"].endswith("/Join")
    assert set(described["components"]["schemas"]["Error"]["properties"]) == {
        "code",
        "message",
        "where",
        "fix",
    }
    assert "422" in join["responses"]
