"""A person's hand on a phone: taps what it reads, counts its taps, loses the signal."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Locator, Page, expect

from .words import say

SCREEN = {"width": 390, "height": 844}
PHONE: dict[str, Any] = {
    "viewport": SCREEN,
    "device_scale_factor": 2,
    "has_touch": True,
    "is_mobile": True,
    "locale": "en-GB",
    "timezone_id": "Europe/Berlin",
    "geolocation": {"latitude": 54.1234, "longitude": -2.4321, "accuracy": 9},
    "permissions": ["geolocation", "notifications"],
    "reduced_motion": "reduce",
}
SLOW = 4
"""CPU slow-down, to be nearer to a phone."""


RETRY_MS = 90_000
"""A phone that met no server tries again by itself, after a while."""


class Hand:
    """One phone in one hand. `taps` and `typed` count what the person did."""

    def __init__(self, context: BrowserContext, url: str) -> None:
        self.context, self.url = context, url
        self.page: Page = context.pages[0] if context.pages else context.new_page()
        self.page.set_default_timeout(15_000)
        self.taps = self.typed = 0
        self.complaints: list[str] = []
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))

    def open(self, path: str = "/") -> None:
        """The app at an address, from nothing."""
        self.page.goto(self.url + path)
        expect(self.page.locator("h1")).to_be_visible()

    def wait_for_worker(self) -> None:
        """Until the phone can start with no signal: the worker is there and has all files."""
        self.page.evaluate("navigator.serviceWorker.ready.then(() => 1)")
        while not self.page.evaluate("navigator.serviceWorker.controller !== null"):
            self.page.wait_for_timeout(50)

    def slow(self) -> None:
        """As slow as a phone."""
        session = self.context.new_cdp_session(self.page)
        session.send("Emulation.setCPUThrottlingRate", {"rate": SLOW})

    def no_signal(self) -> None:
        """In the wood."""
        self.context.set_offline(True)

    def signal(self) -> None:
        """Home again."""
        self.context.set_offline(False)

    def find(self, words: str) -> Locator:
        """What can be pressed and begins with these words."""
        pressable = self.page.locator(
            "button:visible, a:visible, label:visible, [role=button]:visible"
        )
        return pressable.filter(has_text=words).first

    def tap(self, words: str) -> None:
        """Tap what says so."""
        self.find(words).tap()
        self.taps += 1

    def write(self, label: str, words: str) -> None:
        """Write on the line of that label."""
        self.page.get_by_label(label, exact=False).first.fill(words)
        self.typed += len(words)

    def give_photo(self, file: Path) -> None:
        """The camera gives a picture."""
        self.page.locator("input[type=file]").first.set_input_files(file)
        self.taps += 1

    def reads(self, words: str) -> None:
        """The screen says so, now or soon."""
        expect(self.page.get_by_text(words, exact=False).first).to_be_visible()

    def shows(self, label: str) -> None:
        """Something drawn on the screen has this label, now or soon."""
        expect(
            self.page.get_by_label(label).or_(self.page.get_by_alt_text(label)).first
        ).to_be_visible()

    def does_not_read(self, words: str) -> None:
        """The screen does not say so."""
        expect(self.page.get_by_text(words, exact=False)).to_have_count(0)

    def only_here(self, count: int) -> None:
        """The corner says how many notes exist only on this phone."""
        corner = self.page.locator("a.only").first
        if count:
            expect(corner).to_contain_text(str(count))
        else:
            none = say("parts.only-here.none")
            expect(corner).to_have_attribute("aria-label", none, timeout=RETRY_MS)

    def place(self, name: str) -> None:
        """One of the five places of the bar."""
        self.page.locator("nav.places").get_by_text(name, exact=True).tap()
        self.taps += 1

    def join(self, invitation: str, name: str = "") -> None:
        """Take up an invitation by its link."""
        self.open(f"/join#{invitation}")
        if name:
            self.write(say("begin.name"), name)
        self.tap(say("join.go"))
        expect(self.page).to_have_url(f"{self.url}/", timeout=RETRY_MS)
        expect(self.page.locator("nav.places")).to_be_visible()

    def begin(self, name: str, initials: str) -> None:
        """Begin on this phone alone."""
        self.tap(say("begin.here"))
        self.write(say("begin.name"), name)
        self.write(say("begin.initials"), initials)
        self.tap(say("begin.start"))
        expect(self.page.locator("nav.places")).to_be_visible()
