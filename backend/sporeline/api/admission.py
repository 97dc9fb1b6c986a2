"""Who makes this request, and whether they may see the logbook it is about."""

from __future__ import annotations

from typing import cast

from flask import g, request

from sporeline.api.services import current_services
from sporeline.errors import NotSignedIn
from sporeline.people import Membership, Session

COOKIE = "__Host-sporeline"


def session_if_any() -> Session | None:
    """The session of this request, None without one. :raise ShutOut: the phone was shut out."""
    if "session" not in g:
        token = _token()
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
    """The session with its role in that logbook, asked once for each request.

    :raise NotSignedIn: see `current_session`. :raise NotMember: no such logbook for this person.
    """
    if "membership" not in g or g.membership.logbook != logbook:
        g.membership = current_services().people.membership(current_session(), logbook)
    return cast(Membership, g.membership)


def _token() -> str | None:
    """The session's secret: a script's bearer token, else the phone's cookie."""
    scheme, _, bearer = request.headers.get("Authorization", "").partition(" ")
    if scheme.lower() == "bearer" and bearer:
        return bearer.strip()
    return request.cookies.get(COOKIE)
