"""The wiring: the one place that picks clocks, randomness, rooms and routes."""

from __future__ import annotations

import secrets
import time
from collections.abc import Callable
from typing import Any

import flask_smorest
from alembic import command
from alembic.config import Config
from flask import Flask
from flask_limiter import Limiter
from flask_limiter.util import get_remote_address
from sqlalchemy import text
from werkzeug.middleware.proxy_fix import ProxyFix

from sporeline import __version__, reminders
from sporeline.api import (
    Services,
    calendar,
    demo,
    digest,
    exchange,
    failures,
    guard,
    health,
    logbooks,
    notices,
    operator,
    pages,
    people,
    photos,
    session,
    tasks,
)
from sporeline.api import (
    time as api_time,
)
from sporeline.clocks import Clocks
from sporeline.database import Database, get_state, put_state
from sporeline.ids import Ids
from sporeline.logbook import Logbooks
from sporeline.people import People
from sporeline.photos import PhotoStore
from sporeline.settings import Settings, secret

FAMILIES = (
    health,
    api_time,
    session,
    logbooks,
    exchange,
    digest,
    people,
    photos,
    tasks,
    notices,
    calendar,
    operator,
)
"""The families of endpoints; each module has a `blueprint`. A new family is one more name here."""

LARGEST_BODY = 16 * 1024 * 1024
GUESSABLE = ("session.join",)
TRIES = "10 per minute; 60 per hour"
"""Failed tries of an invitation code from one address."""


def wall_clock() -> int:
    """Milliseconds since 1970, UTC."""
    return time.time_ns() // 1_000_000


def create_app(
    settings: Settings,
    *,
    wall: Callable[[], int] = wall_clock,
    random_bytes: Callable[[int], bytes] = secrets.token_bytes,
    operator_token: str = "",
) -> Flask:
    """The app with its database brought up to date.

    :raise AlreadyOpen: another process serves this data folder.
    """
    app = Flask("sporeline", static_folder=None)
    app.config.update(MAX_CONTENT_LENGTH=LARGEST_BODY, **_openapi())
    app.json.sort_keys = False  # type: ignore[attr-defined]
    services = wire(settings, wall, random_bytes)
    services.operator_token = operator_token
    app.extensions["sporeline"] = services
    failures.register(app)
    guard.register(app, settings)
    _register_families(app, settings)
    if settings.proxies:
        hops = settings.proxies
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=hops, x_proto=hops, x_host=hops)  # type: ignore[method-assign]
    return app


def wire(
    settings: Settings, wall: Callable[[], int], random_bytes: Callable[[int], bytes]
) -> Services:
    """Open the database, bring it up to date and make each room's service."""
    database = Database(settings.database_url)
    try:
        upgrade(database)
        return _services(settings, database, wall, random_bytes)
    except BaseException:
        database.close()
        raise


def _services(
    settings: Settings,
    database: Database,
    wall: Callable[[], int],
    random_bytes: Callable[[int], bytes],
) -> Services:
    ids = Ids(random_bytes, wall)
    clocks = _clocks(settings, database, wall)
    pepper = secret(settings.data_dir, "invitations", lambda: random_bytes(32))
    books = Logbooks(database, clocks, ids)
    books.catch_up()
    return Services(
        settings=settings,
        database=database,
        clocks=clocks,
        ids=ids,
        people=People(database, clocks, ids, pepper),
        logbook=books,
        photos=PhotoStore(settings.data_dir / "photos"),
        reminders=reminders.build(settings, database, clocks, ids),
    )


def tick(services: Services) -> None:
    """What happens by itself, some seconds apart; a failure shows in the health check."""
    services.reminders.tick()
    services.tick.last_ms = services.clocks.wall()


def upgrade(database: Database) -> None:
    """Bring the tables up to date in one transaction; on PostgreSQL one server at a time."""
    config = Config()
    config.set_main_option("script_location", "sporeline:logbook/migrations")
    with database.write() as connection:
        if database.kind == "postgresql":
            connection.execute(text("SET LOCAL statement_timeout = 0"))
            connection.execute(text("SELECT pg_advisory_xact_lock(7076)"))
        config.attributes["connection"] = connection
        command.upgrade(config, "head")


def _clocks(settings: Settings, database: Database, wall: Callable[[], int]) -> Clocks:
    """The demo's calendar goes on where it stood; outside the demo it is the real one."""

    def keep(shift_days: int) -> None:
        with database.write() as connection:
            put_state(connection, "shift_days", str(shift_days))

    clocks = Clocks(wall, demo=settings.demo, keep=keep)
    if settings.demo:
        with database.read() as connection:
            kept = get_state(connection, "shift_days")
        if kept is not None:
            clocks.shift_days = int(kept)
        elif settings.demo_today:
            clocks.move_to(settings.demo_today)
    return clocks


def _register_families(app: Flask, settings: Settings) -> None:
    api = _Api(app)
    for family in (*FAMILIES, demo) if settings.demo else FAMILIES:
        api.register_blueprint(family.blueprint)
    app.register_blueprint(pages.blueprint)
    limiter = Limiter(get_remote_address, app=app, storage_uri="memory://")
    for endpoint in GUESSABLE:
        limited: Any = limiter.limit(
            TRIES, deduct_when=lambda response: response.status_code >= 400
        )
        app.view_functions[endpoint] = limited(app.view_functions[endpoint])


class _Api(flask_smorest.Api):  # type: ignore[misc]  # it has no types of its own
    """flask-smorest without its own shape of errors; ours is in `api/failures.py`."""

    ERROR_SCHEMA = failures.ErrorSchema

    def _register_error_handlers(self) -> None:
        pass


def _openapi() -> dict[str, object]:
    return {
        "API_TITLE": "sporeline",
        "API_VERSION": __version__,
        "OPENAPI_VERSION": "3.1.0",
        "OPENAPI_URL_PREFIX": "/api/v1",
        "OPENAPI_JSON_PATH": "openapi.json",
    }
