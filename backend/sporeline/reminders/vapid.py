"""The server's own key pair towards push services (VAPID, RFC 8292).

Made once and kept for good: every phone's subscription is bound to it, so losing the file means
that each phone has to subscribe again.
"""

from __future__ import annotations

import base64
import ipaddress
from pathlib import Path
from urllib.parse import urlsplit

from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec
from py_vapid import Vapid02

from sporeline.settings import secret

FILE = "vapid.pem"
VALID_SECONDS = 12 * 3600
"""RFC 8292 §2 allows 24 hours; half of it leaves room for a clock that is off."""


class Vapid:
    """Signs the claims of each single request; `public` is what phones subscribe with."""

    def __init__(self, pem: bytes, contact: str) -> None:
        """`contact`: `mailto:` or `https:` address, see `contact_from`."""
        key = serialization.load_pem_private_key(pem, password=None)
        assert isinstance(key, ec.EllipticCurvePrivateKey)
        self._signer = Vapid02(private_key=key)
        self._contact = contact
        point = key.public_key().public_bytes(
            serialization.Encoding.X962, serialization.PublicFormat.UncompressedPoint
        )
        self.public = base64.urlsafe_b64encode(point).rstrip(b"=").decode()

    def authorization(self, origin: str, wall_ms: int) -> str:
        """The `Authorization` header for one request to a push service at `origin`."""
        expires = wall_ms // 1000 + VALID_SECONDS
        claims = {"aud": origin, "exp": expires, "sub": self._contact}
        return str(self._signer.sign(claims)["Authorization"])


def keep_key(data_dir: Path) -> bytes:
    """The key of this server as PEM, made on the first start, in a file only it may read."""
    return secret(data_dir, FILE, _new_key)


def contact_from(push_contact: str, public_url: str) -> str | None:
    """The address that push services may write to, or None: then no notice can be sent.

    Without a setting, an https address of this server serves as well. Apple's service refuses
    contacts such as `mailto:x@localhost` with 403, so those count as none.
    """
    wanted = push_contact or public_url
    if wanted.startswith("mailto:"):
        name, _, host = wanted.removeprefix("mailto:").partition("@")
        return wanted if name and _is_real(host) else None
    parts = urlsplit(wanted)
    if parts.scheme == "https" and _is_real(parts.hostname or ""):
        return f"https://{parts.hostname}"
    return None


def _is_real(host: str) -> bool:
    """A name that may exist on the open internet (the endings of RFC 2606 and 6762 do not)."""
    try:
        ipaddress.ip_address(host)
    except ValueError:
        ending = host.lower().rpartition(".")[2]
        return "." in host and ending not in {"localhost", "local", "invalid", "internal", ""}
    return False


def _new_key() -> bytes:
    return ec.generate_private_key(ec.SECP256R1()).private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
