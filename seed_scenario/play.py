"""Play the story through the API:  python -m seed_scenario.play --url URL --invitation A --invitation B."""

from __future__ import annotations

import argparse
import datetime as dt
import json
import time
from pathlib import Path
from typing import Any

from .phone import Phone
from .teller import Teller

STORY = Path(__file__).with_name("story.json")


def story() -> dict[str, Any]:
    """The story as it is written."""
    return json.loads(STORY.read_text(encoding="utf-8"))  # type: ignore[no-any-return]


def play(
    url: str, invitations: tuple[str, str], today: str | None, wall_ms: int
) -> dict[str, str | int]:
    """Two phones join with the two invitations and live through the story.

    today: the day (YYYY-MM-DD) that is to be the story's last; all its dates move by whole days.
    wall_ms: the real time, from which the phones' clocks count.
    Returns the logbook's id, the two persons' ids and how many entries were written.
    """
    told = story()
    phones = {
        initials: Phone(url, initials, who, told["zone"], wall_ms)
        for initials, who in told["people"].items()
    }
    for phone, invitation in zip(phones.values(), invitations, strict=True):
        phone.join(invitation)
    teller = Teller(told, phones, _days_between(told["today"], today or told["today"]))
    teller.people()
    teller.tell()
    return {
        "logbook": next(iter(phones.values())).logbook,
        **{initials: phone.person for initials, phone in phones.items()},
        "entries": sum(phone.written for phone in phones.values()),
    }


def _days_between(first: str, last: str) -> int:
    return (dt.date.fromisoformat(last) - dt.date.fromisoformat(first)).days


def main() -> None:
    """The command line."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--url", required=True)
    ask.add_argument("--invitation", action="append", required=True, help="twice: one a person")
    ask.add_argument("--today", help="YYYY-MM-DD")
    said = ask.parse_args()
    wall_ms = int(time.time() * 1000)  # noqa: TID251  (the command line is the wiring here)
    print(json.dumps(play(said.url, tuple(said.invitation), said.today, wall_ms)))


if __name__ == "__main__":
    main()
