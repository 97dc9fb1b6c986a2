"""What goes wrong with browsers and people: killed, twice, refused, a wrong clock, shut out."""

from __future__ import annotations

import os
import signal
import subprocess
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Playwright, expect
from served import Served

from .conftest import FLAGS, chromium_path
from .hand import PHONE, Hand
from .words import say


def cut(hand: Hand) -> None:
    """A cut of something, the shortest way; it is called saved when this returns."""
    hand.open("/field/cut")
    hand.tap(say("field.ripeness.ripe"))
    hand.tap(say("field.taken.pinna"))
    hand.tap(say("field.cut.save"))
    hand.reads(say("parts.saved.here"))


def test_what_was_called_saved_outlives_the_browsers_death(
    served: Served, player: Playwright, tmp_path: Path
) -> None:
    profile = tmp_path / "profile"

    def opened() -> BrowserContext:
        return player.chromium.launch_persistent_context(
            str(profile), executable_path=chromium_path(), args=FLAGS, **PHONE
        )

    hand = Hand(opened(), served.url)
    hand.open()
    hand.begin("Ada Moor", "AM")
    hand.wait_for_worker()
    hand.no_signal()
    cut(hand)
    _kill_browser(profile)
    served.kill9()

    again = Hand(opened(), served.url)
    again.open("/bench")
    again.reads(say("bench.title.packets", n=1))
    again.context.close()


def test_a_form_is_as_it_was_after_the_page_was_killed(
    served: Served, phone: Callable[..., Hand]
) -> None:
    hand = phone(served.url)
    hand.open()
    hand.begin("Ada Moor", "AM")
    hand.open("/field/plant")
    hand.write(say("field.log.name"), "the big one by the weir")
    hand.page.wait_for_timeout(700)
    hand.page.close()
    again = Hand(hand.context, served.url)
    again.page = hand.context.new_page()
    again.open("/field/plant")
    expect(again.page.get_by_label(say("field.log.name")).first).to_have_value(
        "the big one by the weir"
    )


def test_two_tabs_see_the_same_and_give_no_number_twice(
    served: Served, phone: Callable[..., Hand]
) -> None:
    first = phone(served.url)
    first.open()
    first.begin("Ada Moor", "AM")
    second = Hand(first.context, served.url)
    second.page = first.context.new_page()
    second.open("/bench")
    cut(first)
    second.reads(say("bench.title.packets", n=1))
    second.open("/field/cut")
    second.reads("AM\N{NO-BREAK SPACE}2")
    cut(second)
    first.open("/bench")
    first.reads(say("bench.title.packets", n=2))


def test_the_back_button_goes_back(served: Served, phone: Callable[..., Hand]) -> None:
    hand = phone(served.url)
    hand.open()
    hand.begin("Ada Moor", "AM")
    hand.place("Field")
    hand.tap(say("field.cut"))
    hand.reads("AM\N{NO-BREAK SPACE}1")
    hand.page.go_back()
    hand.reads(say("field.log"))
    hand.page.go_forward()
    hand.reads("AM\N{NO-BREAK SPACE}1")


def test_a_second_tap_on_save_saves_once(served: Served, phone: Callable[..., Hand]) -> None:
    hand = phone(served.url)
    hand.open()
    hand.begin("Ada Moor", "AM")
    hand.open("/field/cut")
    hand.tap(say("field.taken.pinna"))
    hand.find(say("field.cut.save")).dblclick()
    hand.reads(say("parts.saved.here"))
    hand.open("/bench")
    hand.reads(say("bench.title.packets", n=1))


def test_a_photo_that_is_none_is_kept_and_said_so(
    served: Served, phone: Callable[..., Hand], tmp_path: Path
) -> None:
    none = tmp_path / "frond.jpg"
    none.write_bytes(b"this is no picture")
    hand = phone(served.url)
    hand.open()
    hand.begin("Ada Moor", "AM")
    hand.open("/field/cut")
    hand.tap(say("field.taken.part"))
    hand.give_photo(none)
    hand.reads(say("errors.photo-unreadable.happened"))
    hand.reads(say("errors.photo-unreadable.safe"))
    hand.tap(say("field.cut.save"))
    hand.reads(say("parts.saved.here"))


def test_a_browser_that_keeps_nothing_says_so(served: Served, chromium: Browser) -> None:
    context = chromium.new_context(**PHONE)
    context.add_init_script(
        "IDBFactory.prototype.open = () => { throw new DOMException('refused', 'SecurityError') }"
    )
    hand = Hand(context, served.url)
    hand.page.goto(served.url)
    hand.reads(say("errors.storage-refused.happened"))
    hand.reads(say("errors.storage-refused.do"))
    context.close()


def test_a_full_phone_says_so_and_the_form_stays(
    served: Served, phone: Callable[..., Hand]
) -> None:
    hand = phone(served.url)
    hand.open()
    hand.begin("Ada Moor", "AM")
    hand.open("/field/cut")
    hand.tap(say("field.taken.frond"))
    hand.page.evaluate(
        "IDBObjectStore.prototype.put = IDBObjectStore.prototype.add = function () {"
        " throw new DOMException('no room', 'QuotaExceededError') }; 0"
    )
    hand.tap(say("field.cut.save"))
    hand.reads(say("errors.storage-full.happened"))
    hand.does_not_read(say("parts.saved.here"))
    frond = hand.page.get_by_role("button", name=say("field.taken.frond"), exact=True)
    expect(frond).to_have_attribute("aria-pressed", "true")


def test_a_shut_out_phone_keeps_what_it_has_not_sent(
    served: Served, phone: Callable[..., Hand]
) -> None:
    owner, lost = phone(served.url), phone(served.url)
    owner.join(served.invite("owner"), "Ada Moor")
    lost.join(served.invite("grower"), "Bo Fell")
    lost.does_not_read(say("today.notice.fixing", n=2))
    lost.only_here(0)
    lost.wait_for_worker()
    lost.no_signal()
    cut(lost)
    _shut_out(owner, "Bo Fell")
    lost.signal()
    lost.open("/")
    lost.reads(say("today.notice.shut-out"))
    lost.open("/bench")
    lost.reads(say("bench.title.packets", n=1))


@pytest.mark.parametrize("days", [365, -365])
def test_a_clock_that_is_a_year_off_stops_nothing(
    served: Served, phone: Callable[..., Hand], days: int
) -> None:
    hand = phone(served.url)
    hand.context.add_init_script(
        f"{{ const now = Date.now; Date.now = () => now() + {days} * 86400000 }}"
    )
    hand.join(served.invite("owner"), "Ada Moor")
    hand.only_here(0)
    cut(hand)
    hand.only_here(0)
    hand.open("/book/fixing")
    hand.page.wait_for_timeout(300)
    hand.open("/")
    hand.does_not_read(say("today.notice.fixing", n=1))


def _shut_out(owner: Hand, name: str) -> None:
    owner.page.evaluate(
        """async name => {
          const me = await (await fetch("/api/v1/me")).json();
          const base = "/api/v1/logbooks/" + me.logbooks[0].id;
          const all = await (await fetch(base + "/people")).json();
          const person = (all.people ?? all).find(one => one.name === name);
          const path = `${base}/devices/${person.devices[0].id}`;
          const answer = await fetch(path, {method: "DELETE"});
          if (!answer.ok) throw new Error(`${answer.status} ${await answer.text()}`);
        }""",
        name,
    )


def _kill_browser(profile: Path) -> None:
    """SIGKILL to the browser that has this profile open, found by its own command line."""
    listed = subprocess.run(["ps", "-ewwo", "pid,args"], capture_output=True, text=True, check=True)
    mine = [
        int(line.split(None, 1)[0])
        for line in listed.stdout.splitlines()
        if f"--user-data-dir={profile}" in line and "--type=" not in line
    ]
    assert mine, "the browser was not found"
    for pid in mine:
        os.kill(pid, signal.SIGKILL)
    time.sleep(0.5)
