"""What `app.py` wired, as handlers find it."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import cast

from flask import current_app

from sporeline.clocks import Clocks
from sporeline.database import Database
from sporeline.ids import Ids
from sporeline.logbook import Logbooks
from sporeline.people import People
from sporeline.photos import PhotoStore
from sporeline.reminders import Reminders
from sporeline.settings import Settings


@dataclass
class Tick:
    """The heartbeat of what happens by itself; `expected` once a thread runs it."""

    expected: bool = False
    last_ms: int | None = None


@dataclass
class Services:
    """One per app."""

    settings: Settings
    database: Database
    clocks: Clocks
    ids: Ids
    people: People
    logbook: Logbooks
    photos: PhotoStore
    reminders: Reminders
    operator_token: str = ""
    """Opens the operator's calls; empty closes them."""
    pages: Path = Path(__file__).parent.parent / "static"
    """The phone app as built."""
    tick: Tick = field(default_factory=Tick)


def current_services() -> Services:
    """The services of the app that answers this request."""
    return cast(Services, current_app.extensions["sporeline"])
