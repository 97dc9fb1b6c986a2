"""`./deploy/demo` as a person starts it: it comes up, ends cleanly, and comes back in seconds."""

from __future__ import annotations

import json
import re
import signal
import socket
import subprocess
import urllib.request
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.house.planting import ROOT

CODE = re.compile(r"[0-9A-Z]{4}-[0-9A-Z]{4}")


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


@dataclass(frozen=True)
class Shown:
    """What a run of the demo said until it was up, and how it ended."""

    lines: list[str]
    url: str
    invitation: list[str]
    logbook: str
    page: str
    code: int


def run_demo(data: Path, *more: str) -> Shown:
    """Start it, read until it is up, open its page, press Ctrl-C."""
    port = free_port()
    command = [ROOT / "deploy/demo", "--json", "--port", str(port), "--data", data, *more]
    child = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, start_new_session=True)
    assert child.stdout
    lines = []
    try:
        for line in child.stdout:
            lines.append(line)
            if line.startswith("{"):
                break
        told = json.loads(lines[-1]) if lines and lines[-1].startswith("{") else {}
        assert told, "".join(lines)
        with urllib.request.urlopen(told["url"] + "/", timeout=30) as answer:
            page = answer.read().decode()
    finally:
        child.send_signal(signal.SIGINT)
        lines += child.stdout.readlines()
        code = child.wait()
    return Shown(lines, told["url"], told["invitation"], told["logbook"], page, code)


@pytest.fixture(scope="module")
def first_and_second(tmp_path_factory: pytest.TempPathFactory) -> tuple[Shown, Shown]:
    data = tmp_path_factory.mktemp("demo") / "data"
    return run_demo(data), run_demo(data)


def test_it_comes_up_with_the_app_and_two_invitations(
    first_and_second: tuple[Shown, Shown],
) -> None:
    for shown in first_and_second:
        assert "<title>" in shown.page
        first, second = shown.invitation
        assert CODE.fullmatch(first) and CODE.fullmatch(second) and first != second
        assert f"{shown.url}/join#{first}" in "".join(shown.lines)


def test_it_says_how_a_phone_opens_it(first_and_second: tuple[Shown, Shown]) -> None:
    said = "".join(first_and_second[0].lines)
    port = first_and_second[0].url.rpartition(":")[2]
    assert f"adb reverse tcp:{port} tcp:{port}" in said
    assert "iPhone" in said and "https" in said


def test_ctrl_c_ends_it_and_its_server(first_and_second: tuple[Shown, Shown]) -> None:
    for shown in first_and_second:
        assert shown.code == 0
        with socket.socket() as probe:
            assert probe.connect_ex(("127.0.0.1", int(shown.url.rpartition(":")[2]))) != 0


def test_a_second_start_makes_nothing_anew(first_and_second: tuple[Shown, Shown]) -> None:
    first, second = first_and_second
    assert second.logbook == first.logbook
    assert not set(second.invitation) & set(first.invitation)
    steps = [line for line in second.lines if line.startswith("-- ")]
    assert [step.split()[1] for step in steps] == ["The"], steps  # "The demo has ended" alone
