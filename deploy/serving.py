"""A sporeline server in demo mode as a child process."""

from __future__ import annotations

import json
import subprocess
import time
import urllib.error
import urllib.request
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from deploy.environments import ROOT, BringingFailed, Environment

PATIENCE = 60.0
"""Seconds within which a server answers or has failed; a slow disk needs some."""


class Server:
    """Starts on entering, is ended on leaving; its words go to `server.log` in its data folder."""

    def __init__(self, environment: Environment, data: Path, port: int, day: str) -> None:
        self.url = f"http://localhost:{port}"
        self.environment = environment
        self._log = data / "server.log"
        data.mkdir(parents=True, exist_ok=True)
        self._variables = {
            **environment.variables(),
            "SPORELINE_DATA_DIR": str(data),
            "SPORELINE_PUBLIC_URL": self.url,
            "SPORELINE_HOST": "127.0.0.1",
            "SPORELINE_PORT": str(port),
            "SPORELINE_DEMO": "1",
            "SPORELINE_DEMO_TODAY": day,
        }

    def __enter__(self) -> Self:
        with self._log.open("ab") as log:
            # In a session of its own: Ctrl-C is for us, who then end it in order.
            self._child = subprocess.Popen(
                [self.environment.programs / "sporeline", "serve"],
                cwd=ROOT,
                env=self._variables,
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
                start_new_session=True,
            )
        try:
            self._wait_until_ready()
        except BaseException:
            self._end()
            raise
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._end()

    def invite(self, role: str, person: str | None = None) -> str:
        """A new invitation code, to join as somebody new or as a person who is there."""
        as_whom = ["--person", person] if person else []
        told: dict[str, Any] = json.loads(
            self.command("invite", "--role", role, *as_whom, "--json")
        )
        return str(told["code"])

    def command(self, *words: str) -> str:
        """What an operator's verb prints."""
        program = [str(self.environment.programs / "sporeline"), *words]
        done = subprocess.run(
            program, cwd=ROOT, env=self._variables, capture_output=True, text=True, check=False
        )
        if done.returncode:
            raise BringingFailed(f"`sporeline {' '.join(words)}` failed:\n{done.stderr}")
        return done.stdout

    def wait(self) -> None:
        """Until the server ends by itself, which it should not."""
        code = self._child.wait()
        raise BringingFailed(
            f"The server ended by itself ({code}). Its last words:\n{self._words()}"
        )

    def _wait_until_ready(self) -> None:
        last = time.monotonic() + PATIENCE
        while time.monotonic() < last and self._child.poll() is None:
            try:
                with urllib.request.urlopen(f"{self.url}/api/health", timeout=2):
                    return
            except (urllib.error.URLError, OSError):
                time.sleep(0.1)
        raise BringingFailed(f"The server did not start. Its last words:\n{self._words()}")

    def _words(self) -> str:
        return "\n".join(self._log.read_text("utf-8", "replace").splitlines()[-15:])

    def _end(self) -> None:
        self._child.terminate()
        try:
            self._child.wait(timeout=15)
        except subprocess.TimeoutExpired:
            self._child.kill()
            self._child.wait()
