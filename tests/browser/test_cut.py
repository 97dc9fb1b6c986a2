"""In the wood with no signal: five taps, nothing typed, and what was called saved is there."""

from __future__ import annotations

from collections.abc import Callable

from served import Served

from .hand import Hand
from .words import say


def test_from_a_cold_start_with_no_signal_to_a_saved_cut(
    served: Served, phone: Callable[..., Hand]
) -> None:
    hand = phone(served.url)
    hand.open()
    hand.begin("Ada Moor", "AM")
    hand.wait_for_worker()
    hand.no_signal()
    hand.page.close()

    again = Hand(hand.context, served.url)
    again.page = hand.context.new_page()
    again.slow()
    again.open()
    again.place("Field")
    again.tap(say("field.cut"))
    again.reads("AM")
    again.tap(say("field.ripeness.ripe"))
    again.tap(say("field.taken.pinna"))
    again.tap(say("field.cut.save"))
    again.reads(
        say("field.cut.saved", number="AM\N{NO-BREAK SPACE}1").replace("\N{NO-BREAK SPACE}", " ")
    )
    print(f"{again.taps} taps, {again.typed} letters typed")
    assert (again.taps <= 5, again.typed) == (True, 0)

    again.page.reload()
    again.place("Bench")
    again.reads(say("bench.title.packets", n=1))
