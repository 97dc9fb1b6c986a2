"""The one way out: a notice, encrypted for one phone, to that phone's push service.

pywebpush encrypts and py_vapid signs. The request itself is made here, because pywebpush follows
redirects (also to addresses inside), waits without end and calls a redirected 200 a success.
"""

from __future__ import annotations

import base64
import hashlib
import ssl
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime
from typing import Literal

import urllib3
from pywebpush import WebPusher

from sporeline.errors import NotValid
from sporeline.reminders.endpoints import (
    BlockedAddress,
    Endpoint,
    Resolve,
    check_endpoint,
    public_addresses,
)
from sporeline.reminders.vapid import Vapid

LARGEST_BODY = 3993
"""Bytes of plain text that fit into the 4096 a push service must take (RFC 8291 §4)."""
LARGEST_ANSWER = 8192
TIMEOUT = urllib3.Timeout(connect=5, read=10)

_NO_CONNECTION = (urllib3.exceptions.NewConnectionError, urllib3.exceptions.ConnectTimeoutError)

Verdict = Literal["accepted", "gone", "too-large", "later", "refused"]


@dataclass(frozen=True)
class Subscription:
    """Where one phone takes notices, as its browser gave it (base64url text)."""

    endpoint: str
    p256dh: str
    auth: str


@dataclass(frozen=True)
class Outcome:
    """What became of one request.

    accepted: the push service took it (which is not yet: it was seen) · gone: no such phone any
    more · too-large: never to be sent again · later: try again, not before `wait_s` seconds ·
    refused: something about this subscription is wrong.
    """

    verdict: Verdict
    status: int | None = None
    wait_s: int = 0


class PushSender:
    """Sends; keeps nothing. Safe to use from several threads."""

    def __init__(
        self,
        vapid: Vapid,
        added_hosts: tuple[str, ...],
        resolve: Resolve,
        wall: Callable[[], int],
    ) -> None:
        self.key = vapid.public
        """The server's public key, which phones subscribe with."""
        self._vapid = vapid
        self._added_hosts = added_hosts
        self._resolve = resolve
        self._wall = wall
        self._tls = ssl.create_default_context()

    def send(self, to: Subscription, body: bytes, *, ttl_s: int, topic: str) -> Outcome:
        """Send `body` (plain text) to one phone. Network trouble is an outcome, not an error."""
        if len(body) > LARGEST_BODY:
            return Outcome("too-large")
        try:
            endpoint = check_endpoint(to.endpoint, self._added_hosts)
            addresses = public_addresses(endpoint, self._resolve)
        except OSError:
            return Outcome("later")
        except (NotValid, BlockedAddress):  # allowed when the phone subscribed, and no longer
            return Outcome("refused")
        headers = self._headers(endpoint, ttl_s, topic)
        keys = {"p256dh": to.p256dh, "auth": to.auth}
        sealed = WebPusher({"endpoint": to.endpoint, "keys": keys}).encode(body)["body"]
        return self._post(endpoint, addresses, sealed, headers)

    def _headers(self, endpoint: Endpoint, ttl_s: int, topic: str) -> dict[str, str]:
        """RFC 8030 §5.2–5.4, RFC 8188 and RFC 8292. `Host` names the service, not the address."""
        return {
            "Host": endpoint.origin.partition("://")[2],
            "TTL": str(max(0, ttl_s)),
            "Urgency": "high",
            "Topic": topic_of(topic),
            "Content-Type": "application/octet-stream",
            "Content-Encoding": "aes128gcm",
            "Authorization": self._vapid.authorization(endpoint.origin, self._wall()),
        }

    def _post(
        self, endpoint: Endpoint, addresses: list[str], sealed: bytes, headers: dict[str, str]
    ) -> Outcome:
        """Connect to a checked address, never to the name again: it may answer differently."""
        for address in addresses:
            with self._pool(endpoint, address) as pool:
                try:
                    answer = pool.urlopen(
                        "POST",
                        endpoint.path,
                        body=sealed,
                        headers=headers,
                        redirect=False,
                        retries=False,
                        preload_content=False,
                    )
                    answer.read(LARGEST_ANSWER)
                    answer.close()
                except _NO_CONNECTION:
                    continue
                except (urllib3.exceptions.HTTPError, OSError):
                    return Outcome("later")
            return self._outcome(answer.status, answer.headers)
        return Outcome("later")

    def _pool(self, endpoint: Endpoint, address: str) -> urllib3.HTTPConnectionPool:
        if endpoint.scheme == "http":
            return urllib3.HTTPConnectionPool(address, endpoint.port, timeout=TIMEOUT)
        return urllib3.HTTPSConnectionPool(
            address,
            endpoint.port,
            timeout=TIMEOUT,
            ssl_context=self._tls,
            server_hostname=endpoint.host,
            assert_hostname=endpoint.host,
        )

    def _outcome(self, status: int, headers: Mapping[str, str]) -> Outcome:
        if status in (201, 202):
            return Outcome("accepted", status)
        if status in (404, 410):
            return Outcome("gone", status)
        if status == 413:
            return Outcome("too-large", status)
        if status == 429 or status >= 500:
            wait = seconds_until(headers.get("Retry-After"), self._wall())
            return Outcome("later", status, wait)
        return Outcome("refused", status)


def topic_of(name: str) -> str:
    """32 base64url characters, the most that RFC 8030 §5.4 allows; tells nothing of `name`."""
    return base64.urlsafe_b64encode(hashlib.sha256(name.encode()).digest())[:32].decode()


def seconds_until(retry_after: str | None, wall_ms: int) -> int:
    """Seconds of a `Retry-After` (RFC 9110 §10.2.3: seconds or a date), from 0 to a day."""
    if not retry_after:
        return 0
    if retry_after.strip().isdecimal():
        return min(int(retry_after), 86_400)
    try:
        when = parsedate_to_datetime(retry_after)
    except ValueError:
        return 0
    aware = when if when.tzinfo else when.replace(tzinfo=UTC)
    now = datetime.fromtimestamp(wall_ms / 1000, UTC)
    return max(0, min(int((aware - now).total_seconds()), 86_400))
