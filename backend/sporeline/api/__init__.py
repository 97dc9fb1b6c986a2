"""The calls that phones, scripts and the operator make. Parse, call, answer: no rules, no queries.

Handlers find what they need through `current_services()`, `current_session()`, `member_of(id)`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, cast

from flask import current_app, g, request

from sporeline.api.blueprint import Blueprint, Id, Schema, Words
from sporeline.clocks import Clocks
from sporeline.database import Database
from sporeline.errors import NotSignedIn
from sporeline.ids import Ids
from sporeline.people import Membership, People, Session
from sporeline.settings import Settings

COOKIE = "__Host-sporeline"

__all__ = [
    "COOKIE",
    "Blueprint",
    "Id",
    "Schema",
    "Services",
    "Tick",
    "Words",
    "current_services",
    "current_session",
    "member_of",
]


@dataclass
class Tick:
    """The heartbeat of what happens by itself; `expected` once a thread runs it."""

    expected: bool = False
    last_ms: int | None = None


@dataclass
class Services:
    """What `app.py` wired; one per app."""

    settings: Settings
    database: Database
    clocks: Clocks
    ids: Ids
    people: People
    operator_token: str = ""
    """Opens the operator's calls; empty closes them."""
    pages: Path = Path(__file__).parent.parent / "static"
    """The phone app as built."""
    tick: Tick = field(default_factory=Tick)
    logbook: Any = None
    photos: Any = None
    reminders: Any = None


def current_services() -> Services:
    """The services of the app that answers this request."""
    return cast(Services, current_app.extensions["sporeline"])


def token_of_request() -> str | None:
    """The session's secret: a script's bearer token, else the phone's cookie."""
    scheme, _, bearer = request.headers.get("Authorization", "").partition(" ")
    if scheme.lower() == "bearer" and bearer:
        return bearer.strip()
    return request.cookies.get(COOKIE)


def session_if_any() -> Session | None:
    """The session of this request, None without one. :raise ShutOut: the phone was shut out."""
    if "session" not in g:
        token = token_of_request()
        g.session = current_services().people.session_of(token) if token else None
        if g.session is not None and g.session.stale and token == request.cookies.get(COOKIE):
            g.new_cookie = token  # browsers end a cookie by its age: a sign of life renews it
    return cast("Session | None", g.session)


def current_session() -> Session:
    """:raise NotSignedIn: no session, or an ended one. :raise ShutOut: the phone was shut out."""
    session = session_if_any()
    if session is None:
        raise NotSignedIn
    return session


def member_of(logbook: str) -> Membership:
    """The session with its role in that logbook.

    :raise NotSignedIn: see `current_session`. :raise NotMember: no such logbook for this person.
    """
    return current_services().people.membership(current_session(), logbook)
