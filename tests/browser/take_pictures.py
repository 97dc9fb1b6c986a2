"""Pictures of every screen: python -m tests.browser.take_pictures [FOLDER] [--readme]

Plays the seed scenario on a server of its own, joins a phone of its first person, and takes each
screen at 390×844 in light, dark and sun and at 320 px. With --readme the few pictures that the
README shows are written small into seed_scenario/screens/.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, sync_playwright

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "backend")]

from served import Served

from seed_scenario.play import play
from tests.browser.conftest import FLAGS, chromium_path
from tests.browser.hand import PHONE, Hand

TODAY = "2026-08-18"
LOOKS: dict[str, dict[str, object]] = {
    "light": {},
    "dark": {"color_scheme": "dark"},
    "sun": {},
    "320": {"viewport": {"width": 320, "height": 640}},
}
SCREENS = {
    "today": "/",
    "field": "/field",
    "field-cut": "/field/cut",
    "field-plant": "/field/plant",
    "field-received": "/field/received",
    "bench": "/bench",
    "bench-sow": "/bench/sow",
    "ahead": "/ahead",
    "book": "/book",
    "book-questions": "/book/questions",
    "book-only-here": "/book/only-here",
    "book-fixing": "/book/fixing",
    "book-people": "/book/people",
    "book-reminders": "/book/reminders",
    "book-cautions": "/book/cautions",
    "book-about": "/book/about",
}
LINKED = {
    "box": ("/bench", "a[href^='/bench/box/']"),
    "round": ("/bench", "a[href^='/bench/shelf/']"),
    "packet": ("/bench", "a[href^='/bench/packet/']"),
    "plant": ("/field", "a[href^='/field/plant/']"),
    "record": ("/bench", "a[href^='/book/record/']"),
}
README = ("today", "field-cut", "round", "box", "bench-sow", "book-only-here")


def main() -> None:
    """The command line."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("folder", nargs="?", type=Path, default=ROOT / "var" / "pictures")
    ask.add_argument("--readme", action="store_true")
    said = ask.parse_args()
    said.folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        settings = {"demo": "1", "demo_today": TODAY}
        with Served(Path(scratch) / "data", **settings) as served:
            codes = (served.invite("owner"), served.invite("grower"))
            told = play(served.url, codes, TODAY, time.time_ns() // 1_000_000)
            browser = playwright.chromium.launch(executable_path=chromium_path(), args=FLAGS)
            for look in LOOKS:
                invitation = served.invite("owner", str(told["MV"]))
                _take(browser, served.url, invitation, look, said.folder)
    if said.readme:
        _small(said.folder, ROOT / "seed_scenario" / "screens")


def _take(browser: Browser, url: str, invitation: str, look: str, folder: Path) -> None:
    context = browser.new_context(**{**PHONE, "timezone_id": "Europe/London", **LOOKS[look]})
    hand = Hand(context, url)
    hand.open("/")
    hand.page.screenshot(path=folder / f"begin-{look}.png")
    hand.join(invitation)
    if look == "sun":
        hand.page.evaluate("localStorage.setItem('sporeline-theme', 'sun')")
    hand.only_here(0)
    for name, path in SCREENS.items():
        hand.open(path)
        _shoot(hand, folder / f"{name}-{look}.png")
    for name, (path, link) in LINKED.items():
        hand.open(path)
        target = hand.page.locator(link).first
        if target.count():
            hand.open(str(target.get_attribute("href")))
            _shoot(hand, folder / f"{name}-{look}.png")
    context.close()


def _shoot(hand: Hand, file: Path) -> None:
    hand.page.wait_for_timeout(400)
    hand.page.screenshot(path=file)
    wide = hand.page.evaluate("document.documentElement.scrollWidth - innerWidth")
    print(file.name, "" if wide <= 0 else f"{wide} px too wide")


def _small(folder: Path, to: Path) -> None:
    to.mkdir(exist_ok=True)
    for name in README:
        picture = Image.open(folder / f"{name}-light.png").convert("L")
        small = picture.resize((390, round(picture.height * 390 / picture.width)))
        small.quantize(24).save(to / f"{name}.png", optimize=True)


if __name__ == "__main__":
    sys.exit(main())
