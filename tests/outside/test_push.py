"""What a push service and a phone get from us, read by their own standards."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import jwt
import pytest
from cryptography.hazmat.primitives.asymmetric import ec
from outside.rfc8291 import UserAgent, from_text, private_key, to_text

from sporeline.reminders.notices import Notice, push_body
from sporeline.reminders.push import LARGEST_BODY, PushSender, Subscription
from sporeline.reminders.vapid import Vapid, keep_key

# RFC 8291 §5 (the example) and Appendix A (the values in between),
# https://www.rfc-editor.org/rfc/rfc8291
RFC_PLAIN = b"When I grow up, I want to be a watermelon"
RFC_PHONE = "q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94"
RFC_PHONE_PUBLIC = (
    "BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4"
)
RFC_AUTH = "BTBZMqHH6r4Tts7J_aSIgg"
RFC_SALT = "DGv6ra1nlYgDCS1FRnbzlw"
RFC_SERVER_PUBLIC = (
    "BP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A8"
)
RFC_SHARED = "kyrL1jIIOHEzg3sM2ZWRHDRB62YACZhhSlknJ672kSs"
RFC_INPUT_KEY = "S4lYMb_L0FxCeq0WhDx813KgSYqU26kOyzWUdsXYyrg"
RFC_CONTENT_KEY = "oIhVW04MRdy2XN9CiKLxTg"
RFC_NONCE = "4h_95klXJ5E_qnoN"
RFC_BODY = (
    "DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27ml"
    "mlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_yl95bQpu6cVPT"
    "pK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN"
)

WALL = 1_785_000_000_000


@pytest.fixture
def rfc_phone() -> UserAgent:
    return UserAgent(private_key(from_text(RFC_PHONE)), from_text(RFC_AUTH))


def test_the_reader_agrees_with_rfc_8291_appendix_a(rfc_phone: UserAgent) -> None:
    keys = rfc_phone.derive(from_text(RFC_SALT), from_text(RFC_SERVER_PUBLIC))
    assert to_text(rfc_phone.public) == RFC_PHONE_PUBLIC
    assert to_text(keys.shared) == RFC_SHARED
    assert to_text(keys.input_key) == RFC_INPUT_KEY
    assert to_text(keys.content_key) == RFC_CONTENT_KEY
    assert to_text(keys.nonce) == RFC_NONCE


def test_the_reader_opens_the_message_of_rfc_8291_section_5(rfc_phone: UserAgent) -> None:
    assert len(from_text(RFC_BODY)) == 144
    assert rfc_phone.read(from_text(RFC_BODY)) == RFC_PLAIN


Request = tuple[dict[str, str], bytes]


@pytest.fixture
def service() -> Iterator[tuple[str, list[Request]]]:
    """A push service on this machine: its host, and what it got."""
    got: list[Request] = []

    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers["Content-Length"]))
            got.append(({name.lower(): value for name, value in self.headers.items()}, body))
            self.send_response(201)
            self.send_header("Content-Length", "0")
            self.end_headers()

        def log_message(self, *_: object) -> None:
            pass

    with ThreadingHTTPServer(("127.0.0.1", 0), Handler) as server:
        threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True).start()
        yield f"127.0.0.1:{server.server_port}", got
        server.shutdown()


@pytest.fixture
def vapid(tmp_path: Path) -> Vapid:
    return Vapid(keep_key(tmp_path), "mailto:grower@example.org")


def send(vapid: Vapid, host: str, phone: UserAgent, body: bytes) -> None:
    sender = PushSender(vapid, (host,), lambda *_: ["127.0.0.1"], lambda: WALL)
    to = Subscription(f"http://{host}/push/1", **phone.subscription_keys)
    outcome = sender.send(to, body, ttl_s=86_400, topic="01977a00/first-look")
    assert outcome.verdict == "accepted"


NOTICE = push_body(
    Notice("Box 4: first look", "Asplenium ×alternifolium. Look through the lid."),
    "01977a00/first-look/2026-06-01",
    "01977a00",
    "first-look",
)


@pytest.mark.parametrize("plain", [NOTICE, b"{}", b"x" * LARGEST_BODY], ids=["notice", "2", "most"])
def test_a_phone_that_knows_only_the_standard_reads_our_notice(
    service: tuple[str, list[Request]], vapid: Vapid, plain: bytes
) -> None:
    host, got = service
    phone = UserAgent(ec.generate_private_key(ec.SECP256R1()), bytes(range(16)))
    send(vapid, host, phone, plain)
    ((headers, body),) = got
    assert phone.read(body) == plain
    assert headers["content-encoding"] == "aes128gcm"  # RFC 8291 §4
    assert len(body) <= 4096  # RFC 8030 §7.2: no more need be taken


def test_the_phone_of_the_rfc_reads_our_notice(
    service: tuple[str, list[Request]], vapid: Vapid, rfc_phone: UserAgent
) -> None:
    host, got = service
    send(vapid, host, rfc_phone, NOTICE)
    assert rfc_phone.read(got[0][1]) == NOTICE


def test_headers_of_rfc_8030(service: tuple[str, list[Request]], vapid: Vapid) -> None:
    host, got = service
    send(vapid, host, UserAgent(ec.generate_private_key(ec.SECP256R1()), bytes(16)), NOTICE)
    headers = got[0][0]
    assert headers["ttl"].isdecimal()  # §5.2: required, seconds
    assert headers["urgency"] in {"very-low", "low", "normal", "high"}  # §5.3
    topic = headers["topic"]  # §5.4: at most 32 characters of the base64url alphabet
    assert len(topic) <= 32
    assert set(topic) <= set("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_")


def test_the_claims_of_rfc_8292_are_signed(
    service: tuple[str, list[Request]], vapid: Vapid
) -> None:
    """RFC 8292 §2 (claims) and §3 (the header); signature checked by PyJWT (RFC 7515, ES256)."""
    host, got = service
    send(vapid, host, UserAgent(ec.generate_private_key(ec.SECP256R1()), bytes(16)), NOTICE)
    scheme, _, rest = got[0][0]["authorization"].partition(" ")
    parameters = dict(part.strip().split("=", 1) for part in rest.split(","))
    assert scheme == "vapid"
    assert parameters["k"] == vapid.public
    point = from_text(parameters["k"])
    key = ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), point)
    claims = jwt.decode(
        parameters["t"],
        key,
        algorithms=["ES256"],
        audience=f"http://{host}",  # the origin of the push resource
        options={"require": ["aud", "exp", "sub"], "verify_exp": False},
    )
    assert WALL // 1000 < claims["exp"] <= WALL // 1000 + 24 * 3600  # at most 24 hours
    assert claims["sub"].startswith("mailto:")
    assert jwt.get_unverified_header(parameters["t"])["typ"] == "JWT"
