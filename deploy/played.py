"""The story in a demo's data folder: played once, kept until somebody asks for a fresh one."""

from __future__ import annotations

import json
import shutil
import subprocess
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from deploy.environments import ROOT, BringingFailed
from deploy.serving import Server

MARK = "demo.json"
"""Stands in a folder that the demo made, so that nothing else is ever thrown away."""


@dataclass(frozen=True)
class Played:
    """Who is in the played logbook, and the day on which its story ends."""

    day: str
    logbook: str
    persons: list[str]


class Story:
    """The seed scenario, its days moved so that it ends on `today` (else on its own day)."""

    def __init__(self, folder: Path, today: str | None) -> None:
        told: dict[str, Any] = json.loads((folder / "story.json").read_text("utf-8"))
        self._people = list(told["people"])
        self._logbook = str(told["logbook"])
        self.day = today or str(told["today"])

    def begin(self, server: Server) -> str:
        """Begin the logbook, before the server runs; gives the invitation of its owner."""
        told = server.command("init", "--name", self._logbook, "--json")
        return str(json.loads(told)["code"])

    def play(self, server: Server, first: str, data: Path) -> Played:
        """Two phones join the running server and live through the story."""
        second = server.invite("grower")
        command = [
            *(str(server.environment.python), "-m", "seed_scenario.play", "--url", server.url),
            *("--invitation", first, "--invitation", second, "--today", self.day),
        ]
        done = subprocess.run(
            command,
            cwd=ROOT,
            env=server.environment.variables(),
            stdout=subprocess.PIPE,
            text=True,
            check=False,
        )
        if done.returncode:
            raise BringingFailed("The story could not be played (the reason stands above).")
        told = json.loads(done.stdout)
        played = Played(self.day, told["logbook"], [told[name] for name in self._people])
        (data / MARK).write_text(json.dumps(asdict(played)), "utf-8")
        return played


def read_played(data: Path, today: str | None) -> Played | None:
    """What was played here before; None when there is nothing, or a story that broke off."""
    try:
        told = json.loads((data / MARK).read_text("utf-8") or "null")
    except FileNotFoundError:
        return None
    if told is None:
        return None
    played = Played(**told)
    if today not in (None, played.day):
        raise BringingFailed(
            f"The demo's data in {data} end on {played.day}, not on {today}, and may hold notes of "
            "yours. Nothing was changed. Add --fresh to throw them away, or --data with another folder."
        )
    return played


def clear(data: Path) -> None:
    """Make an empty folder for a new story; only what a demo made is ever removed."""
    if data.exists() and any(data.iterdir()):
        if not (data / MARK).exists():
            raise BringingFailed(f"{data} was not made by the demo; it stays as it is.")
        shutil.rmtree(data)
    data.mkdir(parents=True, exist_ok=True)
    (data / MARK).write_text("", "utf-8")
