"""Runs one part: its steps in order, its words kept together, its checks counted."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

from deploy.environments import Environment
from tests.house.runner.counting import Count
from tests.house.runner.parts import Part, Step


class Runner:
    """Starts commands in the environment of their part; safe to use from several threads.

    `places` maps "tests" and "outside" to environments, `more` is added to the variables of every
    command, `reports` is a folder for the runners' reports.
    """

    def __init__(self, places: dict[str, Environment], more: dict[str, str], reports: Path) -> None:
        self._places = places
        self._more = more
        self._reports = reports
        self._speaking = threading.Lock()
        self._running: set[subprocess.Popen[bytes]] = set()

    def run(self, part: Part) -> Count:
        begun = time.monotonic()
        log = self._reports / f"{part.name}.log"
        total = Count(0, 0)
        with log.open("wb") as words:
            for number, step in enumerate(part.steps):
                total += self._step(
                    part, step, self._reports / f"{part.name}-{number}", words.fileno()
                )
        seconds = time.monotonic() - begun
        with self._speaking:
            print(f"\n== {part.name} ({seconds:.0f} s)", flush=True)
            sys.stdout.write(log.read_text("utf-8", "replace"))
            print(f"{part.name}: {total.passed} passed, {total.failed} failed", flush=True)
        return total

    def _step(self, part: Part, step: Step, report: Path, words: int) -> Count:
        os.write(words, f"-- {step.title}\n".encode())
        command = [word.format(report=report) for word in step.command]
        place = self._places["outside" if "outside" in part.needs else "tests"]
        begun = os.lseek(words, 0, os.SEEK_END)
        child = subprocess.Popen(
            command,
            cwd=step.folder,
            env={**place.variables(), "NO_COLOR": "1", **self._more},
            stdin=subprocess.DEVNULL,
            stdout=words,
            stderr=words,
            start_new_session=True,
        )
        self._running.add(child)
        code = child.wait()
        self._running.discard(child)
        output = (
            (self._reports / f"{part.name}.log").read_bytes()[begun:].decode("utf-8", "replace")
        )
        return step.count(report, output, code)

    def end(self) -> None:
        """End what still runs, with everything that it started."""
        for child in list(self._running):
            os.killpg(child.pid, signal.SIGTERM)
