"""`./deploy/demo`: the whole of sporeline on this computer, with a story already played."""

from __future__ import annotations

import argparse
import datetime
import json
import signal
import socket
import sys
from pathlib import Path
from types import FrameType

from deploy.environments import (
    DEPLOY,
    ROOT,
    BringingFailed,
    Environment,
    digest_of,
    make_environment,
    pip,
    stamp_of,
    write_stamp,
)
from deploy.played import Played, Story, clear, read_played
from deploy.serving import Server

OPEN = """
It is {day} in the demo, and it runs until you press Ctrl-C. Open it:

  on this computer    {url}/join#{first}
                      in Chrome, Edge or Firefox

  on an Android       join it by cable (USB debugging on), then type here
  phone                 adb reverse tcp:{port} tcp:{port}
                      and open in the phone's Chrome
                        {url}/join#{second}

  on an iPhone        it needs your own server with https: deploy/README.md

Both invitations work once; the next start prints new ones.
"""


def say(line: str) -> None:
    print(f"-- {line}", flush=True)


def read_arguments(words: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="./deploy/demo", description=__doc__)
    parser.add_argument("--port", type=int, default=8800, help="default: 8800")
    parser.add_argument("--today", type=a_day, metavar="YYYY-MM-DD", help="the demo's day")
    parser.add_argument("--data", type=Path, default=ROOT / "var/demo", help="default: var/demo")
    parser.add_argument("--fresh", action="store_true", help="throw the demo's data away first")
    parser.add_argument("--json", action="store_true", help="also print one line for programs")
    return parser.parse_args(words)


def a_day(text: str) -> str:
    return datetime.date.fromisoformat(text).isoformat()


def installed(environment: Environment) -> None:
    """The sources as they are now, built and installed; seconds when nothing has changed."""
    sources = [ROOT / name for name in ("backend", "pwa", "pyproject.toml", "README.md")]
    wanted = digest_of([*sources, DEPLOY / "hatch_build.py"])
    if stamp_of(environment, "sources") == wanted:
        return
    say("Building the phone app and installing sporeline (half a minute)")
    pip(environment, "--no-deps", "--no-build-isolation", "--force-reinstall", str(ROOT))
    write_stamp(environment, "sources", wanted)


def check_port(port: int) -> None:
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError as busy:
            raise BringingFailed(
                f"Port {port} is in use, perhaps by a demo that runs already. Nothing was changed. "
                f"End that one, or take another: ./deploy/demo --port {port + 1}"
            ) from busy


def demo(told: argparse.Namespace) -> None:
    """Everything up to the printed addresses, then wait for Ctrl-C."""
    check_port(told.port)
    environment = make_environment(ROOT / ".env-demo", ["requirements.lock"], say)
    installed(environment)
    data = told.data.absolute()
    story = Story(ROOT / "seed_scenario", told.today)
    played = None if told.fresh else read_played(data, told.today)
    if played is None:
        clear(data)
    server = Server(environment, data, told.port, played.day if played else story.day)
    first = "" if played else story.begin(server)
    with server:
        if played is None:
            say("Playing the story: two people, their ferns, boxes and shelves")
            played = story.play(server, first, data)
        show(told, server, played)
        server.wait()


def show(told: argparse.Namespace, server: Server, played: Played) -> None:
    first, second = (
        server.invite(role, person)
        for role, person in zip(("owner", "grower"), played.persons, strict=True)
    )
    day = f"{datetime.date.fromisoformat(played.day):%A, %d %B %Y}"
    print(OPEN.format(day=day, url=server.url, port=told.port, first=first, second=second))
    if told.json:
        line = {"url": server.url, "invitation": [first, second], "logbook": played.logbook}
        print(json.dumps(line))
    sys.stdout.flush()


def stop(number: int, frame: FrameType | None) -> None:
    raise KeyboardInterrupt


def main(words: list[str]) -> int:
    told = read_arguments(words)
    # Said outright: a demo that was started in the background begins with SIGINT ignored.
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, stop)
    try:
        demo(told)
    except BringingFailed as failure:
        print(failure, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        say("The demo has ended; ./deploy/demo starts it again with what was noted in it")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
