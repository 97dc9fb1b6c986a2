"""The operator's verbs: each is the server, asks the running one, or works while none runs."""

from __future__ import annotations

import argparse
import gc
import json
import os
import secrets
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from apscheduler.schedulers.background import BackgroundScheduler
from gunicorn.app.base import BaseApplication  # type: ignore[import-untyped]

from sporeline.api import Services
from sporeline.api.people import told_invitation
from sporeline.app import create_app, tick, wall_clock, wire
from sporeline.database import AlreadyOpen
from sporeline.errors import CannotStart, SporelineError
from sporeline.people import Offer
from sporeline.people.roles import ROLES
from sporeline.settings import Settings, load, write_private

if TYPE_CHECKING:
    from collections.abc import Iterator

    from flask import Flask

SERVING = "serving.json"
"""Beside the database while a server runs: its local address, and the token of its operator."""

PRIVATE = 0o077
"""All that is written is for the server's account alone."""

TICK_SECONDS = 30
STARTING_SECONDS = 20


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one verb; gives the exit status. What went wrong is told on stderr in plain words."""
    given = _parser().parse_args(arguments)
    os.umask(PRIVATE)
    try:
        return int(given.verb(_settings(given), given))
    except SporelineError as wrong:
        print(f"{wrong.message} {wrong.fix}".strip(), file=sys.stderr)
        return 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="sporeline", description="The operator's verbs.")
    parser.add_argument("--data-dir", type=Path, help="where everything is kept")
    verbs = parser.add_subparsers(required=True, metavar="VERB")

    begin = verbs.add_parser("init", help="begin a logbook and print its first invitation")
    begin.add_argument("--name", default="Our ferns", help="what its people call it")
    begin.add_argument("--json", action="store_true", help="answer in JSON")
    begin.set_defaults(verb=_init)

    serve = verbs.add_parser("serve", help="be the server")
    serve.add_argument("--host", help="address to listen on")
    serve.add_argument("--port", type=int)
    serve.set_defaults(verb=_serve)

    invite = verbs.add_parser("invite", help="invite someone, or a further phone of someone")
    invite.add_argument("--role", choices=ROLES, default="grower")
    invite.add_argument("--logbook", help="its id; needed when the server holds several")
    invite.add_argument("--person", help="id of the person whose further phone it is")
    invite.add_argument("--json", action="store_true", help="answer in JSON")
    invite.set_defaults(verb=_invite)
    return parser


def _settings(given: argparse.Namespace) -> Settings:
    """Settings with what the command line says on top."""
    chosen = {
        name: str(value)
        for name in ("host", "port")
        if (value := getattr(given, name, None)) is not None
    }
    return load(data_dir=given.data_dir, chosen=chosen)


@contextmanager
def _opened(settings: Settings) -> Iterator[Services]:
    """The wired services while no server runs. :raise AlreadyOpen: one does."""
    services = wire(settings, wall_clock, secrets.token_bytes)
    try:
        yield services
    finally:
        services.database.close()


def _init(settings: Settings, given: argparse.Namespace) -> int:
    with _opened(settings) as services:
        if services.people.has_logbook():
            raise CannotStart(
                f"{settings.data_dir} holds a logbook already; nothing was changed.",
                fix="To invite someone: sporeline invite --role owner",
            )
        logbook = services.people.found_logbook(given.name)
        made = services.people.invite(Offer(logbook, "owner"))
    answer = {**told_invitation(made, settings.public_url), "logbook": logbook}
    _tell(answer, f"Began “{given.name}” in {settings.data_dir}.", as_json=given.json)
    return 0


def _invite(settings: Settings, given: argparse.Namespace) -> int:
    wanted = {"role": given.role, "logbook": given.logbook, "person": given.person}
    try:
        with _opened(settings) as services:
            logbook = services.people.chosen_logbook(given.logbook)
            made = services.people.invite(Offer(logbook, given.role, given.person))
            answer = told_invitation(made, settings.public_url)
    except AlreadyOpen as running:
        answer = _ask(settings, "invitations", wanted, running)
    _tell(answer, f"An invitation as {answer['role']}.", as_json=given.json)
    return 0


def _tell(invitation: dict[str, Any], first: str, *, as_json: bool) -> None:
    if as_json:
        print(json.dumps(invitation))
        return
    print(first)
    print(f"Open this on the phone, once, before {invitation['expires']}:")
    print(f"  {invitation['url']}")
    print(f"or type the code there: {invitation['code']}")


def _ask(settings: Settings, what: str, body: dict[str, Any], running: AlreadyOpen) -> Any:
    """Ask the running server; it may still be starting.

    :raise AlreadyOpen: whoever holds the data folder does not answer as our server.
    :raise SporelineError: what the server answered, in its own words.
    """
    until = time.monotonic() + STARTING_SECONDS
    while True:
        try:
            return _asked(settings.data_dir / SERVING, what, body)
        except urllib.error.HTTPError as refused:
            told = json.load(refused)
            raise SporelineError(told["message"], code=told["code"], fix=told["fix"]) from refused
        except (OSError, ValueError):
            if time.monotonic() > until:
                raise running from None
            time.sleep(0.2)


def _asked(serving: Path, what: str, body: dict[str, Any]) -> Any:
    told = json.loads(serving.read_text())
    request = urllib.request.Request(
        f"{told['url']}/api/v1/operator/{what}",
        data=json.dumps(body).encode(),
        headers={
            "Authorization": f"Bearer {told['token']}",
            "Content-Type": "application/json",
        },
    )
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    with direct.open(request, timeout=10) as answer:
        return json.load(answer)


def _serve(settings: Settings, given: argparse.Namespace) -> int:
    """Be the server: one worker process with threads, which alone opens the database."""
    with _opened(settings) as services:  # what can go wrong at start is told here, readably
        begun = services.people.has_logbook()
    token = secrets.token_urlsafe(32)
    serving = settings.data_dir / SERVING
    local = f"http://{_local(settings.host)}:{settings.port}"
    write_private(serving, json.dumps({"url": local, "token": token}).encode())
    print(f"Open {settings.public_url}", flush=True)
    if not begun:
        print("No logbook yet. To begin one, stop this and run: sporeline init", flush=True)
    try:
        _Server(settings, token).run()
    except SystemExit as ended:
        return int(ended.code or 0)
    finally:
        serving.unlink(missing_ok=True)
    return 0


def _local(host: str) -> str:
    """How this computer itself reaches a server that listens on `host`."""
    local = {"0.0.0.0": "127.0.0.1", "::": "::1"}.get(host, host)
    return f"[{local}]" if ":" in local else local


class _Server(BaseApplication):  # type: ignore[misc]  # it has no types of its own
    """gunicorn, set up from our settings alone: no files, no environment of its own."""

    def __init__(self, settings: Settings, operator_token: str) -> None:
        self._settings = settings
        self._operator_token = operator_token
        super().__init__()

    def load_config(self) -> None:
        host = f"[{self._settings.host}]" if ":" in self._settings.host else self._settings.host
        chosen = {
            "bind": f"{host}:{self._settings.port}",
            "workers": 1,
            "worker_class": "gthread",
            "threads": 8,
            "timeout": 60,
            "graceful_timeout": 20,
            "keepalive": 5,
            "umask": PRIVATE,
            "loglevel": "warning",
            "control_socket_disable": True,
            "worker_exit": _close,
        }
        for name, value in chosen.items():
            self.cfg.set(name, value)

    def load(self) -> Flask:
        """In the worker: the database and the thread of the tick must not cross a fork."""
        app = create_app(self._settings, operator_token=self._operator_token)
        start_ticking(app)
        _spare_the_collector()
        return app


def _spare_the_collector() -> None:
    """A batch makes thousands of short-lived dicts: measured, pushing is 15 to 20 % faster when
    what the app itself consists of is not gone through again and again."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 100)


def start_ticking(app: Flask) -> None:
    """One job at an interval, in this process; what is to be done stands in tables, not here."""
    services: Services = app.extensions["sporeline"]
    services.tick.expected = True
    services.tick.last_ms = services.clocks.wall()
    scheduler = BackgroundScheduler(timezone="UTC", daemon=True)
    scheduler.add_job(
        tick, "interval", [services], seconds=TICK_SECONDS, coalesce=True, max_instances=1
    )
    scheduler.start()
    app.extensions["ticking"] = scheduler


def _close(_: object, worker: Any) -> None:
    """At the worker's end: stop ticking, then fold SQLite's log into its file."""
    app = getattr(worker, "wsgi", None)
    if app is None:  # it never came to load the app
        return
    app.extensions["ticking"].shutdown(wait=True)
    app.extensions["sporeline"].database.close()


if __name__ == "__main__":
    sys.exit(main())
