"""The main job on two phones: cut in the wood with no signal → both phones agree → packet, sowing,
box → day 14 → the reminder as a push → answered with no signal → the next look moves.

The server is killed and started again on the way.
"""

from __future__ import annotations

import json
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from push_sink import PushSink
from served import Served

from .hand import Hand
from .push_phone import PushedPhone
from .words import as_shown, say

FERN = "Dryopteris filix-mas"
SECRET_PLACE = "behind the old ice house"


@pytest.fixture
def sink() -> Iterator[PushSink]:
    service = PushSink()
    yield service
    service.close()


@pytest.fixture
def demo(tmp_path: Path, sink: PushSink) -> Iterator[Served]:
    """A server whose calendar can be moved, and which may send to the sink."""
    settings = {
        "demo": "1",
        "demo_today": "2026-05-01",
        "push_hosts": sink.host,
        "push_contact": "mailto:keeper@ferns.example",
    }
    with Served(tmp_path / "data", **settings) as server:
        yield server


def test_the_walking_line(
    demo: Served, sink: PushSink, phone: Callable[..., Hand], picture: Path
) -> None:
    ada = phone(demo.url)
    pushed = PushedPhone(sink, ada, "ada")
    ada.join(demo.invite("owner"), "Ada Moor")
    ada.does_not_read(say("today.notice.fixing", n=2))
    ada.wait_for_worker()
    _turn_notices_on(ada)

    _cut_in_the_wood(ada, picture)
    _home_to_a_server_that_is_down(ada, demo)

    bo = phone(demo.url)
    bo.join(demo.invite("grower"), "Bo Fell")
    bo.place("Bench")
    bo.reads(say("bench.title.packets", n=1))
    bo.reads(as_shown(FERN))

    _sow(ada)
    ada.only_here(0)
    bo.page.reload()
    bo.reads(say("bench.title.boxes", n=1))

    _move_calendar(demo, ada, "next")
    message = pushed.await_message(1)
    _holds_no_secret(message)
    _on_the_lock_screen(pushed, message)
    _answered_with_no_signal(ada, pushed, message)

    ada.signal()
    ada.only_here(0)
    bo.page.reload()
    bo.reads("green film")


def _home_to_a_server_that_is_down(hand: Hand, served: Served) -> None:
    served.kill9()
    hand.signal()
    hand.page.wait_for_timeout(500)
    hand.reads(say("field.cut.saved", number="AM 1"))
    served.start()
    hand.only_here(0)


def _on_the_lock_screen(pushed: PushedPhone, message: dict[str, Any]) -> None:
    pushed.deliver(message)
    title, body, tag = pushed.await_shown(say("notices.first-look.body"))
    assert title == say("notices.first-look.title", label="Box 1")
    assert (FERN in body, tag.endswith("/first-look")) == (True, True)


def _answered_with_no_signal(hand: Hand, pushed: PushedPhone, message: dict[str, Any]) -> None:
    hand.open("/")
    hand.reads("Friday 15 May")
    hand.open(message["notification"]["navigate"])
    hand.no_signal()
    hand.tap(say("plans.answer.green_film"))
    pushed.deliver(message)
    pushed.await_shown(say("notices.already"))
    hand.place("Bench")
    hand.tap(as_shown(FERN))
    hand.reads(say("bench.box.leave-round", day="22 May"))


def _turn_notices_on(hand: Hand) -> None:
    hand.open("/book/reminders")
    hand.tap(say("book.remind.turn-on"))
    hand.reads(say("book.remind.turn-off"))


def _cut_in_the_wood(hand: Hand, picture: Path) -> None:
    hand.no_signal()
    hand.open("/field/cut")
    hand.reads("AM")
    hand.tap(say("field.choose"))
    hand.write(say("field.fern.write"), "dryo filix")
    hand.tap(as_shown(FERN))
    hand.tap(say("field.fern.certain"))
    hand.page.locator("a[href*='choose=place']").tap()
    hand.write(say("field.place.write"), SECRET_PLACE)
    hand.tap(say("field.place.done"))
    hand.reads(SECRET_PLACE)
    hand.tap(say("field.ripeness.ripe"))
    hand.tap(say("field.taken.part"))
    hand.give_photo(picture)
    hand.shows(say("field.cut.photo-there"))
    hand.tap(say("field.cut.save"))
    hand.reads(say("field.cut.saved", number="AM 1"))


def _sow(hand: Hand) -> None:
    hand.open("/bench/sow")
    hand.tap("Packet 1")
    hand.tap(say("bench.sow.new-shelf"))
    hand.tap(say("bench.sow.no-mix"))
    hand.tap(say("bench.sow.is-clean"))
    hand.tap(say("bench.sow.about-right"))
    hand.tap(say("bench.sow.is-labelled"))
    hand.tap(say("bench.sow.save", box="box 1"))
    hand.reads(say("bench.sow.saved", box="box 1"))


def _move_calendar(served: Served, hand: Hand, to: str) -> None:
    hand.page.evaluate(
        """to => fetch("/api/v1/demo/clock", {method: "POST", body: JSON.stringify({to}),
           headers: {"Content-Type": "application/json"}}).then(r => r.ok || Promise.reject(r.status))""",
        to,
    )
    with urllib.request.urlopen(f"{served.url}/api/v1/time") as answer:
        assert json.load(answer)["today"] == "2026-05-15"


def _holds_no_secret(message: dict[str, object]) -> None:
    text = json.dumps(message, ensure_ascii=False)
    assert "54.1" not in text
    assert "5412" not in text
    assert SECRET_PLACE not in text
