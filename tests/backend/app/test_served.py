"""A real server process: it starts, the operator asks it, it is killed, and it comes back."""

from __future__ import annotations

import hashlib
import json
import os
import signal
import stat
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from typing import Any

import pytest
from served import Served

NEW = "0190a000-0000-7000-8000-00000000000"


@pytest.fixture(scope="module")
def standing(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One server for all tests that leave it as it is."""
    with Served(tmp_path_factory.mktemp("standing") / "data") as server:
        yield server


def call(server: Served, method: str, path: str, body: Any = None, token: str = "") -> Any:
    """JSON in, JSON out, over HTTP."""
    request = urllib.request.Request(
        server.url + path,
        method=method,
        data=None if body is None else json.dumps(body).encode(),
        headers={"Content-Type": "application/json", "Authorization": f"Bearer {token}"},
    )
    with urllib.request.urlopen(request) as answer:
        return json.load(answer)


def join(server: Served, code: str) -> Any:
    return call(
        server,
        "POST",
        "/api/v1/devices",
        {
            "invitation": code,
            "device": {"id": NEW + "1", "label": "red phone"},
            "person": {"id": NEW + "2", "name": "Marte Voss", "initials": "MV"},
        },
    )


def test_killed_in_mid_life_it_comes_back_with_everybody(server):
    joined = join(server, server.invite("grower"))
    server.kill9()
    with pytest.raises(urllib.error.URLError):
        call(server, "GET", "/api/health")
    server.start()
    me = call(server, "GET", "/api/v1/me", token=joined["token"])
    assert me["person"]["name"] == "Marte Voss"
    assert [book["role"] for book in me["logbooks"]] == ["grower"]


def test_a_worker_that_dies_is_replaced(server):
    (worker,) = server.workers()
    os.kill(worker, signal.SIGKILL)
    until = time.monotonic() + 60
    while server.workers() in ([], [worker]) or not server.answers():
        assert time.monotonic() < until, server.printed
        time.sleep(0.05)
    assert call(server, "GET", "/api/health")["checks"]["database"]["ok"] is True


def test_asked_to_end_it_ends_in_order(server):
    code = server.invite("grower")
    assert server.stop() == 0, server.printed
    assert not (server.data_dir / "serving.json").exists()
    leftovers = {file.name for file in server.data_dir.glob("sporeline.db*")}
    assert leftovers == {"sporeline.db", "sporeline.db.lock"}, "the log was not folded in"
    assert server.invite("watcher") != code, "the operator's verbs work while no server runs"
    again = server.run("init", "--json")
    assert (again.returncode, again.stdout) == (1, "")
    assert "holds a logbook already" in again.stderr


def test_a_second_server_on_the_same_folder_is_refused(standing):
    second = standing.run("serve", "--port", "0")
    assert second.returncode == 1
    assert "is in use by a server that runs" in second.stderr
    assert call(standing, "GET", "/api/health")["status"] == "ok"


def test_all_that_is_kept_is_for_the_servers_account_alone(standing):
    joined = join(standing, standing.invite("grower"))
    photo = f"/api/v1/logbooks/{joined['logbook']['id']}/photos/{hashlib.sha256(b'x').hexdigest()}"
    part = urllib.request.Request(
        standing.url + photo,
        method="PUT",
        data=b"x",
        headers={
            "Authorization": f"Bearer {joined['token']}",
            "Upload-Offset": "0",
            "Upload-Complete": "?1",
        },
    )
    with urllib.request.urlopen(part) as answer:
        assert answer.status == 201
    kept = [file for file in standing.data_dir.rglob("*") if file.is_file()]
    assert {"sporeline.db", "serving.json", "invitations"} <= {file.name for file in kept}
    assert len(kept) >= 6
    for file in kept:
        assert stat.S_IMODE(file.stat().st_mode) & 0o077 == 0, file


def test_the_operators_calls_need_the_token_of_this_start(standing):
    path = "/api/v1/operator/invitations"
    serving = json.loads((standing.data_dir / "serving.json").read_text())
    assert call(standing, "POST", path, {"role": "owner"}, serving["token"])["role"] == "owner"
    for token in ("", "guessed", serving["token"][:-1]):
        with pytest.raises(urllib.error.HTTPError) as refused:
            call(standing, "POST", path, {"role": "owner"}, token)
        assert refused.value.code == 404


def test_what_the_server_answers_the_operator_is_told(standing):
    refused = standing.run("invite", "--person", NEW + "9")
    assert refused.returncode == 1
    assert "There is nobody of that id" in refused.stderr


def test_an_invitation_is_told_in_words(standing):
    told = standing.run("invite", "--role", "onlooker").stdout
    assert f"{standing.url}/join#" in told
    assert "An invitation as onlooker." in told


def test_the_tick_beats(standing):
    tick = call(standing, "GET", "/api/health")["checks"]["tick"]
    assert tick["ok"] is True
    assert tick["last_ms"] is not None


def test_the_same_on_postgresql(tmp_path, postgres_cluster):
    name = postgres_cluster.create()
    url = postgres_cluster.url(name)
    try:
        with Served(tmp_path / "served", database_url=url) as server:
            health = call(server, "GET", "/api/health")
            assert health["checks"]["database"]["kind"] == "postgresql"
            joined = join(server, server.invite("grower"))
            server.kill9()
            server.start()
            assert call(server, "GET", "/api/v1/me", token=joined["token"])["person"]
            assert server.stop() == 0, server.printed
    finally:
        postgres_cluster.drop(name)
