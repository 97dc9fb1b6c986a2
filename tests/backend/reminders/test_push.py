"""The one way out: what a push service gets, what is made of its answers, where nothing goes."""

from __future__ import annotations

import base64
import json
import socket
import ssl
import threading
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest
import urllib3
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from push_sink import Answer, Phone, PushSink

from sporeline.reminders import push
from sporeline.reminders.push import LARGEST_BODY, Outcome, PushSender, seconds_until, topic_of

WALL = 1_785_000_000_000
Senders = Callable[..., PushSender]
BODY = json.dumps({"title": "Box 4: first look"}).encode()


def send(sender: PushSender, phone: Phone, body: bytes = BODY) -> Outcome:
    return sender.send(phone.subscription, body, ttl_s=172_800, topic="box-4/first-look")


def test_the_phone_can_read_what_the_push_service_cannot(sink: PushSink, senders: Senders) -> None:
    phone = Phone(sink.host)
    assert send(senders(sink.host), phone) == Outcome("accepted", 201)
    (request,) = sink.received
    assert phone.read(request.body) == BODY
    assert b"first look" not in request.body
    assert request.path == "/push/phone"


def test_the_headers_a_push_service_needs(sink: PushSink, senders: Senders) -> None:
    send(senders(sink.host), Phone(sink.host))
    headers = sink.received[0].headers
    assert headers["host"] == sink.host
    assert headers["ttl"] == "172800"
    assert headers["urgency"] == "high"
    assert headers["content-encoding"] == "aes128gcm"
    assert headers["topic"] == topic_of("box-4/first-look")
    assert len(headers["topic"]) == 32
    assert headers["authorization"].startswith("vapid t=")


def test_each_push_service_gets_claims_of_its_own(sinks: Callable[[], PushSink], senders: Senders):
    one, other = sinks(), sinks()
    sender = senders(one.host, other.host)
    for sink in (one, other):
        send(sender, Phone(sink.host))
        claims = sink.received[0].headers["authorization"].split("t=")[1].split(".")[1]
        padded = claims + "=" * (-len(claims) % 4)
        read = json.loads(base64.urlsafe_b64decode(padded))
        assert read["aud"] == f"http://{sink.host}"
        assert read["sub"] == "mailto:grower@example.org"
        assert WALL // 1000 < read["exp"] <= WALL // 1000 + 24 * 3600


ANSWERS = [
    (201, {}, Outcome("accepted", 201)),
    (202, {}, Outcome("accepted", 202)),
    (200, {}, Outcome("refused", 200)),
    (301, {"Location": "/elsewhere"}, Outcome("refused", 301)),
    (400, {}, Outcome("refused", 400)),
    (403, {}, Outcome("refused", 403)),
    (404, {}, Outcome("gone", 404)),
    (410, {}, Outcome("gone", 410)),
    (413, {}, Outcome("too-large", 413)),
    (429, {"Retry-After": "120"}, Outcome("later", 429, 120)),
    (500, {}, Outcome("later", 500)),
    (503, {"Retry-After": "7"}, Outcome("later", 503, 7)),
]


@pytest.mark.parametrize(("status", "headers", "expected"), ANSWERS)
def test_what_an_answer_means(
    sink: PushSink, senders: Senders, status: int, headers: dict[str, str], expected: Outcome
) -> None:
    sink.answers = [Answer(status, headers)]
    assert send(senders(sink.host), Phone(sink.host)) == expected
    assert len(sink.received) == 1


@pytest.mark.parametrize("status", [301, 302, 303, 307, 308])
def test_a_redirect_to_this_machine_is_never_followed(
    sinks: Callable[[], PushSink], senders: Senders, status: int
) -> None:
    outside, inside = sinks(), sinks()
    outside.answers = [Answer(status, {"Location": f"http://{inside.host}/admin"})]
    sender = senders(outside.host, inside.host)
    assert send(sender, Phone(outside.host)) == Outcome("refused", status)
    assert inside.received == []


def test_a_silent_push_service_is_tried_again_later(
    sink: PushSink, senders: Senders, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(push, "TIMEOUT", urllib3.Timeout(connect=0.2, read=0.1))
    sink.answers = [Answer(stall_s=5)]
    assert send(senders(sink.host), Phone(sink.host)) == Outcome("later")


def test_waits_are_short_enough_for_the_tick() -> None:
    assert (push.TIMEOUT.connect_timeout, push.TIMEOUT.read_timeout) == (5, 10)


def test_nobody_at_the_address_is_tried_again_later(sink: PushSink, senders: Senders) -> None:
    sink.close()
    assert send(senders(sink.host), Phone(sink.host)) == Outcome("later")


def test_a_name_without_address_is_tried_again_later(sink: PushSink, senders: Senders) -> None:
    def nowhere(_host: str, _port: int) -> list[str]:
        raise OSError

    assert send(senders(sink.host, resolve=nowhere), Phone(sink.host)) == Outcome("later")


def test_the_next_address_is_tried_when_the_first_is_dead(sink: PushSink, senders: Senders) -> None:
    both = senders(sink.host, resolve=lambda *_: ["::1", "127.0.0.1"])
    assert send(both, Phone(sink.host)) == Outcome("accepted", 201)


@pytest.mark.parametrize(
    "address", ["127.0.0.1", "10.0.0.7", "169.254.169.254", "::ffff:127.0.0.1", "fd00::1"]
)
def test_a_known_service_that_resolves_inwards_is_refused(senders: Senders, address: str) -> None:
    phone = Phone("fcm.googleapis.com", scheme="https")
    sender = senders(resolve=lambda *_: [address])
    assert send(sender, phone) == Outcome("refused")


def test_the_name_is_looked_up_once_and_the_checked_address_used(
    sink: PushSink, senders: Senders, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A name that answers with an inside address the second time gets no second time."""
    port = sink.host.rpartition(":")[2]
    asked: list[str] = []
    connected: list[str] = []

    def rebinding(host: str, _port: int) -> list[str]:
        asked.append(host)
        return ["127.0.0.1"] if len(asked) == 1 else ["10.0.0.1"]

    real = socket.getaddrinfo

    def watched(host: str, *given: Any, **named: Any) -> Any:
        connected.append(host)
        return real(host, *given, **named)

    monkeypatch.setattr(socket, "getaddrinfo", watched)
    sender = senders(f"localhost:{port}", resolve=rebinding)
    assert send(sender, Phone(f"localhost:{port}")).verdict == "accepted"
    assert asked == ["localhost"]
    assert connected == ["127.0.0.1"]
    assert sink.received[0].headers["host"] == f"localhost:{port}"


def test_a_host_taken_off_the_list_gets_nothing_more(sink: PushSink, senders: Senders) -> None:
    assert send(senders(), Phone(sink.host)) == Outcome("refused")
    assert sink.received == []


def test_proxies_of_the_environment_are_ignored(
    sinks: Callable[[], PushSink], senders: Senders, monkeypatch: pytest.MonkeyPatch
) -> None:
    proxy, service = sinks(), sinks()
    for name in ("http_proxy", "HTTP_PROXY", "all_proxy"):
        monkeypatch.setenv(name, f"http://{proxy.host}")
    monkeypatch.delenv("no_proxy", raising=False)
    assert send(senders(service.host), Phone(service.host)).verdict == "accepted"
    assert proxy.received == []


@pytest.mark.parametrize(("size", "verdict"), [(3993, "accepted"), (3994, "too-large")])
def test_the_largest_body(sink: PushSink, senders: Senders, size: int, verdict: str) -> None:
    assert LARGEST_BODY == 3993
    assert send(senders(sink.host), Phone(sink.host), b"x" * size).verdict == verdict
    assert [len(request.body) for request in sink.received] == (
        [4096] if verdict == "accepted" else []
    )


@pytest.mark.parametrize(
    ("header", "seconds"),
    [
        (None, 0),
        ("", 0),
        ("120", 120),
        ("999999999", 86_400),
        ("-5", 0),
        ("soon", 0),
        ("Sat, 25 Jul 2026 17:23:20 GMT", 200),
        ("Sat, 25 Jul 2026 17:00:00 GMT", 0),
    ],
)
def test_retry_after(header: str | None, seconds: int) -> None:
    assert seconds_until(header, WALL) == seconds


def certificate(name: str, folder: Path) -> tuple[Path, ssl.SSLContext]:
    """A self-signed certificate for `name`: its file, and a server's side of it."""
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, name)])
    start = datetime.now(UTC) - timedelta(days=1)
    signed = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(start)
        .not_valid_after(start + timedelta(days=9))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName(name)]), critical=False)
        .add_extension(x509.BasicConstraints(ca=True, path_length=None), critical=True)
        .sign(key, hashes.SHA256())
    )
    path, pair = folder / f"{name}.pem", folder / f"{name}.pair.pem"
    path.write_bytes(signed.public_bytes(serialization.Encoding.PEM))
    private = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    pair.write_bytes(path.read_bytes() + private)
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(pair)
    return path, context


class _Accepting(BaseHTTPRequestHandler):
    def do_POST(self) -> None:
        self.rfile.read(int(self.headers["Content-Length"]))
        self.send_response(201)
        self.send_header("Content-Length", "0")
        self.end_headers()

    def log_message(self, *_: object) -> None:
        pass


@pytest.mark.parametrize(("name", "verdict"), [("localhost", "accepted"), ("other.test", "later")])
def test_tls_checks_the_name_of_the_service_at_the_pinned_address(
    senders: Senders, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, verdict: str
) -> None:
    trusted, context = certificate(name, tmp_path)
    monkeypatch.setenv("SSL_CERT_FILE", str(trusted))
    with ThreadingHTTPServer(("127.0.0.1", 0), _Accepting) as server:
        server.socket = context.wrap_socket(server.socket, server_side=True)
        threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True).start()
        host = f"localhost:{server.server_port}"
        assert send(senders(host), Phone(host, scheme="https")).verdict == verdict
        server.shutdown()
