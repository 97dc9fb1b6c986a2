"""Settings come from a file and the environment; secrets are made once and kept private."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest

from sporeline.errors import CannotStart
from sporeline.settings import Settings, load, secret


def test_without_anything_said(tmp_path):
    assert load({}, tmp_path) == Settings(
        data_dir=tmp_path,
        database_url=f"sqlite:///{tmp_path}/sporeline.db",
        public_url="http://localhost:8800",
    )


def test_the_environment_wins_over_the_file_and_the_command_line_over_both(tmp_path):
    (tmp_path / "settings.toml").write_text('host = "file"\nport = 1\ndemo = true\n')
    found = load({"SPORELINE_PORT": "2", "SPORELINE_HOST": "variable"}, tmp_path, {"port": "3"})
    assert (found.host, found.port, found.demo) == ("variable", 3, True)
    assert found.public_url == "http://localhost:3"


@pytest.mark.parametrize(("said", "meant"), [("1", True), ("true", True), ("0", False)])
def test_a_switch(tmp_path, said, meant):
    assert load({"SPORELINE_DEMO": said}, tmp_path).demo is meant


def test_a_value_may_stand_in_a_file_of_its_own(tmp_path):
    (tmp_path / "url").write_text("postgresql://someone:secret@/ferns\n")
    found = load({"SPORELINE_DATABASE_URL_FILE": str(tmp_path / "url")}, tmp_path)
    assert found.database_url == "postgresql://someone:secret@/ferns"


def test_the_rest(tmp_path):
    given = {
        "SPORELINE_PUBLIC_URL": "https://ferns.example/",
        "SPORELINE_PUSH_HOSTS": "a.example,b.example:8443",
        "SPORELINE_PROXIES": "1",
    }
    found = load(given, tmp_path)
    assert found.public_url == "https://ferns.example"
    assert found.secure
    assert found.push_hosts == ("a.example", "b.example:8443")
    assert found.proxies == 1
    assert not load({}, tmp_path).secure


@pytest.mark.parametrize(
    "given", [{"SPORELINE_PORT": "many"}, {"SPORELINE_DEMO": "perhaps"}, {"SPORELINE_PROXIES": "x"}]
)
def test_a_value_that_does_not_fit_is_named(tmp_path, given):
    (variable,) = given
    with pytest.raises(CannotStart) as wrong:
        load(given, tmp_path)
    assert wrong.value.where == variable.removeprefix("SPORELINE_").lower()


@pytest.mark.parametrize("content", ["hots = 'x'", "host ="])
def test_a_file_that_is_wrong_is_not_guessed_at(tmp_path, content):
    (tmp_path / "settings.toml").write_text(content)
    with pytest.raises(CannotStart):
        load({}, tmp_path)


def test_a_secret_is_made_once_and_private(tmp_path: Path):
    made = secret(tmp_path, "pepper", lambda: b"first")
    again = secret(tmp_path, "pepper", lambda: b"second")
    assert made == again == b"first"
    assert [file.name for file in (tmp_path / "secrets").iterdir()] == ["pepper"]
    assert stat.S_IMODE((tmp_path / "secrets" / "pepper").stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "secrets").stat().st_mode) == 0o700
