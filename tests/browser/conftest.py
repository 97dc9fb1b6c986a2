"""Chromium, a served logbook, and phones in hands."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Playwright, sync_playwright
from served import Served

from .hand import PHONE, Hand

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE localhost, EXCLUDE 127.0.0.1",
]
"""No request leaves this machine."""


def chromium_path() -> str | None:
    """Debian's Chromium, or the path that tests/run found; None: Playwright's own."""
    given = os.environ.get("SPORELINE_TEST_CHROMIUM", "/usr/bin/chromium")
    return given if Path(given).exists() else None


@pytest.fixture(scope="session")
def player() -> Iterator[Playwright]:
    """One for the whole run: it cannot be begun twice in one thread."""
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def chromium(player: Playwright) -> Iterator[Browser]:
    browser = player.chromium.launch(executable_path=chromium_path(), args=FLAGS)
    yield browser
    browser.close()


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """A server with an empty logbook, real clock."""
    with Served(tmp_path / "data") as server:
        yield server


@pytest.fixture
def phone(chromium: Browser) -> Iterator[Callable[..., Hand]]:
    """Makes a phone with an empty store, at an address."""
    contexts: list[BrowserContext] = []
    hands: list[Hand] = []

    def make(url: str, **differences: object) -> Hand:
        contexts.append(chromium.new_context(**{**PHONE, **differences}))
        hands.append(Hand(contexts[-1], url))
        return hands[-1]

    yield make
    for context in contexts:
        context.close()
    assert [said for hand in hands for said in hand.complaints] == []


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    """What the camera gives: a drawn frond."""
    from seed_scenario.pictures import frond

    path = tmp_path / "frond.jpg"
    path.write_bytes(frond(3))
    return path
