"""The health check tells what the operator must know."""

from __future__ import annotations

from phones import services_of

from sporeline import __version__


def test_a_well_server_says_so(client, app):
    answer = client.get("/api/health")
    assert answer.status_code == 200
    assert answer.json["status"] == "ok"
    assert answer.json["version"] == __version__
    checks = answer.json["checks"]
    kind = services_of(app).database.kind
    assert checks["database"]["kind"] == kind
    assert checks["database"]["version"][0].isdigit()
    assert ("one writing connection" in checks["database"]["mode"]) == (kind == "sqlite")
    assert checks["disk"]["free_bytes"] > 0
    assert checks["backup"] is None


def test_a_database_that_cannot_be_read_is_told(client, app, monkeypatch):
    from sporeline.errors import Busy

    def busy():
        raise Busy

    monkeypatch.setattr(services_of(app).database, "read", busy)
    answer = client.get("/api/health")
    assert answer.status_code == 503
    assert answer.json["status"] == "degraded"
    assert answer.json["checks"]["database"]["ok"] is False


def test_a_tick_that_stays_away_is_told(client, app, wall):
    tick = services_of(app).tick
    tick.expected, tick.last_ms = True, wall()
    assert client.get("/api/health").json["checks"]["tick"]["ok"] is True
    wall.forward(seconds=600)
    late = client.get("/api/health")
    assert late.json["checks"]["tick"]["ok"] is False
    assert late.json["status"] == "degraded"
    assert late.status_code == 200


def test_little_room_is_told(client, monkeypatch):
    from sporeline.keeping import health

    monkeypatch.setattr(health, "ROOM_NEEDED", 1 << 62)
    answer = client.get("/api/health").json
    assert answer["status"] == "degraded"
    assert answer["checks"]["disk"]["ok"] is False
