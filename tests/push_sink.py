"""A push service on this machine, and a phone that can read what it gets."""

from __future__ import annotations

import base64
import threading
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import http_ece
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec

from sporeline.reminders.push import Subscription


@dataclass
class Answer:
    status: int = 201
    headers: dict[str, str] = field(default_factory=dict)
    stall_s: float = 0


@dataclass
class Received:
    path: str
    headers: dict[str, str]
    body: bytes


class PushSink:
    """Answers as told (the last answer stays) and keeps what came."""

    def __init__(self) -> None:
        self.received: list[Received] = []
        self.answers: list[Answer] = [Answer()]
        self.closing = threading.Event()
        sink = self

        class Handler(BaseHTTPRequestHandler):
            def do_POST(self) -> None:
                body = self.rfile.read(int(self.headers["Content-Length"]))
                headers = {name.lower(): value for name, value in self.headers.items()}
                sink.received.append(Received(self.path, headers, body))
                answer = sink.answers.pop(0) if len(sink.answers) > 1 else sink.answers[0]
                sink.closing.wait(answer.stall_s)
                self.send_response(answer.status)
                for name, value in {"Content-Length": "0", **answer.headers}.items():
                    self.send_header(name, value)
                self.end_headers()

            do_GET = do_POST

            def log_message(self, *_: object) -> None:
                pass

        self.server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        threading.Thread(target=self.server.serve_forever, args=(0.01,), daemon=True).start()
        self.host = f"127.0.0.1:{self.server.server_port}"

    def answer(self, *statuses: int, **headers: str) -> None:
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        self.answers = [Answer(status, named) for status in statuses]

    def close(self) -> None:
        self.closing.set()
        self.server.shutdown()
        self.server.server_close()


class Phone:
    """A browser's side of a subscription."""

    def __init__(self, host: str, name: str = "phone", scheme: str = "http") -> None:
        self._key = ec.generate_private_key(ec.SECP256R1())
        self._auth = bytes(range(16))
        point = self._key.public_key().public_bytes(
            serialization.Encoding.X962, serialization.PublicFormat.UncompressedPoint
        )
        self.subscription = Subscription(
            f"{scheme}://{host}/push/{name}", _text(point), _text(self._auth)
        )

    def read(self, body: bytes) -> bytes:
        opened: bytes = http_ece.decrypt(body, private_key=self._key, auth_secret=self._auth)
        return opened


def _text(value: bytes) -> str:
    return base64.urlsafe_b64encode(value).rstrip(b"=").decode()
