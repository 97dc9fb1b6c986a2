"""The phone app's files: the right page, kept for the right time, under the right policy."""

from __future__ import annotations

import gzip

import pytest
from phones import services_of

PAGE = "<!doctype html><title>sporeline</title>" + "<p>fern</p>" * 200
SCREENS = ["/", "/join", "/answer?task=x&code=y", "/field/plant/0190", "/book/people", "/bench/sow"]


@pytest.fixture(autouse=True)
def built(app, tmp_path):
    """A small built app in place of the real one."""
    root = tmp_path / "static"
    (root / "assets").mkdir(parents=True)
    (root / "index.html").write_text(PAGE)
    (root / "sw.js").write_text("self.x = 1;")
    (root / "manifest.webmanifest").write_text("{}")
    (root / "assets" / "index-abc.js").write_text("let fern = 1;\n" * 200)
    (root / "assets" / "reader-abc.wasm").write_bytes(b"\0asm")
    services_of(app).pages = root
    (tmp_path / "secret.txt").write_text("not for anyone")
    return root


@pytest.mark.parametrize("address", SCREENS)
def test_each_screen_gets_the_page(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    assert answer.get_data(as_text=True) == PAGE
    assert answer.mimetype == "text/html"
    assert answer.headers["Cache-Control"] == "no-cache"


@pytest.mark.parametrize(
    ("address", "kind"),
    [("/sw.js", "text/javascript"), ("/manifest.webmanifest", "application/manifest+json")],
)
def test_files_that_change_are_asked_for_each_time(client, address, kind):
    answer = client.get(address)
    assert (answer.mimetype, answer.headers["Cache-Control"]) == (kind, "no-cache")
    again = client.get(address, headers={"If-None-Match": answer.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


def test_assets_are_kept_forever(client):
    answer = client.get("/assets/reader-abc.wasm")
    assert answer.mimetype == "application/wasm"
    assert "immutable" in answer.headers["Cache-Control"]


def test_text_travels_packed(client, built):
    packed = client.get("/assets/index-abc.js", headers={"Accept-Encoding": "gzip"})
    plain = client.get("/assets/index-abc.js")
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.data) == plain.data
    assert len(packed.data) < len(plain.data) / 4
    assert "Accept-Encoding" in plain.headers["Vary"]
    (built / "assets" / "index-abc.js").write_text("let moss = 2;\n" * 300)
    newer = client.get("/assets/index-abc.js", headers={"Accept-Encoding": "gzip"})
    assert gzip.decompress(newer.data).startswith(b"let moss")


@pytest.mark.parametrize("address", ["/assets/gone-123.js", "/icon.svg", "/api/v1/nothing"])
def test_what_is_not_there_is_no_page(client, address):
    answer = client.get(address)
    assert (answer.status_code, answer.json["code"]) == (404, "not-there")


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH"])
def test_an_unknown_call_is_not_there_by_any_method(client, method):
    answer = client.open("/api/v1/nothing", method=method)
    assert (answer.status_code, answer.json["code"]) == (404, "not-there")


@pytest.mark.parametrize(
    "address", ["/../secret.txt", "/%2e%2e/secret.txt", "/assets/../../secret.txt"]
)
def test_nothing_outside_the_folder(client, address):
    assert b"not for anyone" not in client.get(address).data


def test_an_app_that_was_not_built_says_so(client, app, tmp_path):
    services_of(app).pages = tmp_path / "empty"
    answer = client.get("/")
    assert (answer.status_code, answer.json["code"]) == (404, "app-not-built")
