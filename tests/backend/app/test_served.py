"""A real server process: it starts, is asked by the operator, is killed, and comes back."""

from __future__ import annotations

import json
import urllib.request


def get(server, path):
    with urllib.request.urlopen(server.url + path) as answer:
        return json.load(answer)


def test_start(server):
    assert get(server, "/api/health")["status"] == "ok"
    code = server.invite("grower")
    assert len(code) == 9
    assert server.stop() == 0, server.printed
    assert server.invite("grower") != code
