"""A real server process on a free port, for tests that kill it or speak HTTP to it."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import suppress
from pathlib import Path
from typing import Any, Self

CLI = [sys.executable, "-m", "sporeline.cli"]
READY_SECONDS = 30


class Served:
    """`with Served(folder) as server:` or `.start()`, `.kill9()`, `.stop()`, `.end()`.

    The port stays the same over restarts, so a phone finds the server again. Every process it
    starts stands in a group of its own and is ended by that group's id.
    """

    def __init__(self, data_dir: Path, **settings: str) -> None:
        self.data_dir = data_dir
        self.port = _free_port()
        self.url = f"http://localhost:{self.port}"
        self._settings = settings
        self._process: subprocess.Popen[bytes] | None = None
        self._log = data_dir.with_name(f"{data_dir.name}.log")

    @property
    def printed(self) -> str:
        """All that the server has printed, over all its starts."""
        return self._log.read_text() if self._log.exists() else ""

    def __enter__(self) -> Self:
        self.init()
        self.start()
        return self

    def __exit__(self, *_: object) -> None:
        self.end()

    def init(self, name: str = "Ferns of the Ostrel") -> str:
        """Begin a logbook; gives the code of its first owner invitation."""
        return str(self.operate("init", "--name", name, "--json")["code"])

    def start(self) -> None:
        """Start and wait until it answers."""
        self._log.parent.mkdir(parents=True, exist_ok=True)
        with self._log.open("ab") as log:
            self._process = subprocess.Popen(
                [*CLI, "serve", "--host", "127.0.0.1", "--port", str(self.port)],
                env=self._environment(),
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
                start_new_session=True,
            )
        until = time.monotonic() + READY_SECONDS
        while not self.answers():
            if self._process.poll() is not None or time.monotonic() > until:
                self.kill9()
                raise RuntimeError(f"the server did not start:\n{self.printed}")
            time.sleep(0.05)

    def kill9(self) -> None:
        """End it as a power cut would: master and worker at once, without a word."""
        self._end(signal.SIGKILL)
        while self._listens():  # the worker, an orphan now, may outlive its master by a moment
            time.sleep(0.01)

    def stop(self) -> int:
        """Ask it to end and wait; gives its exit status."""
        return self._end(signal.SIGTERM)

    def end(self) -> None:
        """Whatever state it is in, it is gone afterwards."""
        if self._process is not None:
            self.kill9()

    def workers(self) -> list[int]:
        """Process ids of the workers of the running server."""
        assert self._process is not None, "not started"
        pid = self._process.pid
        return [
            int(child) for child in Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
        ]

    def invite(self, role: str = "grower", person: str | None = None) -> str:
        """The code of a new invitation, by the operator's verb."""
        further = ["--person", person] if person else []
        return str(self.operate("invite", "--role", role, *further, "--json")["code"])

    def operate(self, *verb: str) -> dict[str, Any]:
        """Run a verb of the command line that answers in JSON."""
        done = self.run(*verb)
        if done.returncode:
            raise RuntimeError(f"{verb}: {done.stderr or done.stdout}")
        answer: dict[str, Any] = json.loads(done.stdout)
        return answer

    def run(self, *verb: str) -> subprocess.CompletedProcess[str]:
        """Run any verb of the command line on this server's data folder."""
        return subprocess.run(
            [*CLI, *verb],
            env=self._environment(),
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )

    def _environment(self) -> dict[str, str]:
        ours = {name for name in os.environ if name.startswith("SPORELINE_")}
        clean = {name: value for name, value in os.environ.items() if name not in ours}
        return {
            **clean,
            "SPORELINE_DATA_DIR": str(self.data_dir),
            "SPORELINE_PUBLIC_URL": self.url,
            **{f"SPORELINE_{name.upper()}": value for name, value in self._settings.items()},
        }

    def answers(self) -> bool:
        """Whether it answers its health check now."""
        try:
            with urllib.request.urlopen(f"{self.url}/api/health", timeout=2) as answer:
                return bool(answer.status == 200)
        except (urllib.error.URLError, OSError):
            return False

    def _listens(self) -> bool:
        with socket.socket() as probe:
            return probe.connect_ex(("127.0.0.1", self.port)) == 0

    def _end(self, how: signal.Signals) -> int:
        process = self._process
        assert process is not None, "not started"
        self._process = None
        with suppress(ProcessLookupError):  # it may have ended by itself
            if how == signal.SIGKILL:
                os.killpg(process.pid, how)
            else:
                process.send_signal(how)
        return process.wait(timeout=READY_SECONDS)


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port
