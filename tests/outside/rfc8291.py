"""Reading a web push message, written from RFC 8291 and RFC 8188 with nothing but primitives.

The server encrypts with http_ece, by way of pywebpush; this shares no line with either.
"""

from __future__ import annotations

import base64
from dataclasses import dataclass

from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.kdf.hkdf import HKDF


@dataclass(frozen=True)
class Keys:
    """What the two sides derive (RFC 8291 §3.4, RFC 8188 §2.2 and §2.3)."""

    shared: bytes
    input_key: bytes
    content_key: bytes
    nonce: bytes


class UserAgent:
    """The phone's side: a P-256 key pair and a 16-octet authentication secret."""

    def __init__(self, private_key: ec.EllipticCurvePrivateKey, auth_secret: bytes) -> None:
        self._private = private_key
        self._auth = auth_secret
        self.public = private_key.public_key().public_bytes(
            serialization.Encoding.X962, serialization.PublicFormat.UncompressedPoint
        )

    @property
    def subscription_keys(self) -> dict[str, str]:
        """As `PushSubscription.toJSON().keys` gives them."""
        return {"p256dh": to_text(self.public), "auth": to_text(self._auth)}

    def derive(self, salt: bytes, server_public: bytes) -> Keys:
        server = ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), server_public)
        shared = self._private.exchange(ec.ECDH(), server)
        info = b"WebPush: info\x00" + self.public + server_public
        input_key = HKDF(hashes.SHA256(), 32, self._auth, info).derive(shared)

        def expand(length: int, label: bytes) -> bytes:
            return HKDF(hashes.SHA256(), length, salt, label + b"\x00").derive(input_key)

        return Keys(
            shared,
            input_key,
            expand(16, b"Content-Encoding: aes128gcm"),
            expand(12, b"Content-Encoding: nonce"),
        )

    def read(self, body: bytes) -> bytes:
        """The plain text of one message: header of RFC 8188 §2.1, then one record (RFC 8291 §4).

        :raise ValueError: not the shape that RFC 8291 asks for.
        """
        salt, record_size, id_length = body[:16], int.from_bytes(body[16:20]), body[20]
        server_public, sealed = body[21 : 21 + id_length], body[21 + id_length :]
        if id_length != 65 or record_size < len(sealed):
            raise ValueError("a push message is a single record with a 65-octet key id")
        keys = self.derive(salt, server_public)
        padded = AESGCM(keys.content_key).decrypt(keys.nonce, sealed, None)
        plain, delimiter, zeros = padded.rpartition(b"\x02")  # 2 marks the last record
        if not delimiter or zeros.strip(b"\x00"):
            raise ValueError("the record does not end in the delimiter of a last record")
        return plain


def from_text(text: str) -> bytes:
    """base64url without padding (RFC 7515 §2)."""
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))


def to_text(value: bytes) -> str:
    return base64.urlsafe_b64encode(value).rstrip(b"=").decode()


def private_key(scalar: bytes) -> ec.EllipticCurvePrivateKey:
    return ec.derive_private_key(int.from_bytes(scalar), ec.SECP256R1())
