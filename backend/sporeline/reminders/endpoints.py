"""Which addresses a notice may be sent to. A push endpoint is whatever a phone says it is.

So the host must be a known push service's (or one the operator added), and, each time a notice
goes out, every address that its name resolves to must be a public one: otherwise this server could
be used to knock on doors behind it (OWASP API7:2023, server-side request forgery).
"""

from __future__ import annotations

import ipaddress
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from urllib.parse import SplitResult, urlsplit

from sporeline.errors import NotValid

SERVICES = (
    "fcm.googleapis.com",
    "*.push.services.mozilla.com",
    "*.push.apple.com",
    "*.notify.windows.com",
)
"""The push services of the browsers; `*.` stands for one or more labels."""

LONGEST = 2048
LOOPBACK_NAMES = frozenset({"127.0.0.1", "::1", "localhost"})

Resolve = Callable[[str, int], Sequence[str]]
"""Addresses (as text) of a host and port; raises OSError when there are none."""


class BlockedAddress(Exception):
    """The host's name leads to an address that is no public one."""


@dataclass(frozen=True)
class Endpoint:
    """A push endpoint that passed the check of its form."""

    url: str
    scheme: str
    host: str
    port: int
    path: str
    inside: bool
    """A loopback host that the operator added by name (tests, a service on this machine)."""

    @property
    def origin(self) -> str:
        """Scheme, host and port: the audience of a VAPID claim (RFC 8292 §2)."""
        usual = {"https": 443, "http": 80}[self.scheme] == self.port
        return f"{self.scheme}://{self.host}" + ("" if usual else f":{self.port}")


def check_endpoint(url: object, added_hosts: Iterable[str] = ()) -> Endpoint:
    """An endpoint from what a phone sent.

    `added_hosts`: `host` or `host:port`, from the operator; only those may have another port than
    443, and only a loopback one may be plain http.

    :raise NotValid: not an address of a push service that this server may reach.
    """
    if not isinstance(url, str) or not 0 < len(url) <= LONGEST:
        raise _refused("The push address is missing or too long.")
    if not all("!" <= character <= "~" for character in url) or "\\" in url:
        raise _refused("The push address has a character that no address may have.")
    parts, port = _split(url)
    host = (parts.hostname or "").lower()
    inside = host in LOOPBACK_NAMES and _added(host, port, added_hosts)
    if parts.scheme != "https" and not (inside and parts.scheme == "http"):
        raise _refused("A push address begins with https.")
    if parts.username is not None or parts.password is not None or parts.fragment:
        raise _refused("A push address has no user name, password or fragment.")
    if not (_added(host, port, added_hosts) or (port == 443 and _is_service(host))):
        raise _refused("This server does not know that push service.")
    path = (parts.path or "/") + (f"?{parts.query}" if parts.query else "")
    return Endpoint(url, parts.scheme, host, port, path, inside)


def public_addresses(endpoint: Endpoint, resolve: Resolve) -> list[str]:
    """The addresses to connect to: all that the name has, each of them public.

    One that is not public condemns the name, since which one is taken would be luck.

    :raise BlockedAddress: at least one address is not public. :raise OSError: no address at all.
    """
    addresses = list(dict.fromkeys(resolve(endpoint.host, endpoint.port)))
    if not addresses:
        raise OSError(f"{endpoint.host} has no address")
    for address in addresses:
        if not is_public(address) and not (endpoint.inside and _is_loopback(address)):
            raise BlockedAddress(f"{endpoint.host} leads to {address}")
    return addresses


def is_public(address: str) -> bool:
    """Whether the open internet is meant; addresses that wrap an IPv4 one are unwrapped first."""
    try:
        found = ipaddress.ip_address(address)
    except ValueError:  # also an IPv6 address with a zone: link-local
        return False
    wrapped = _wrapped(found) if isinstance(found, ipaddress.IPv6Address) else None
    if wrapped is not None:
        return is_public(str(wrapped))
    return found.is_global and not (
        found.is_multicast or found.is_reserved or any(found in net for net in _NEVER)
    )


_NEVER = tuple(
    map(
        ipaddress.ip_network,
        ("100.64.0.0/10", "192.0.0.0/24", "192.88.99.0/24", "64:ff9b:1::/48", "fec0::/10"),
    )
)
"""Shared, protocol and site-local ranges that some Python versions call global (IANA registries of
special-purpose addresses)."""

_NAT64 = ipaddress.ip_network("64:ff9b::/96")


def _wrapped(address: ipaddress.IPv6Address) -> ipaddress.IPv4Address | None:
    """The IPv4 address inside an IPv6 one: mapped, NAT64 (RFC 6052), 6to4, Teredo, compatible."""
    if address.ipv4_mapped is not None:
        return address.ipv4_mapped
    if address.sixtofour is not None:
        return address.sixtofour
    if address.teredo is not None:
        return address.teredo[1]
    if address in _NAT64 or int(address) >> 32 == 0:
        return ipaddress.IPv4Address(int(address) & 0xFFFF_FFFF)
    return None


def _is_loopback(address: str) -> bool:
    try:
        return ipaddress.ip_address(address).is_loopback
    except ValueError:
        return False


def _split(url: str) -> tuple[SplitResult, int]:
    try:
        parts = urlsplit(url)
        port = parts.port
    except ValueError as wrong:
        raise _refused("The push address cannot be read.") from wrong
    return parts, port if port is not None else {"http": 80}.get(parts.scheme, 443)


def _is_service(host: str) -> bool:
    return any(
        host.endswith(service[1:]) and len(host) > len(service) - 1 and ".." not in host
        if service.startswith("*.")
        else host == service
        for service in SERVICES
    )


def _added(host: str, port: int, added_hosts: Iterable[str]) -> bool:
    shown = f"[{host}]" if ":" in host else host
    wanted = {shown, f"{shown}:443"} if port == 443 else {f"{shown}:{port}"}
    return any(added.strip().lower() in wanted for added in added_hosts)


def _refused(message: str) -> NotValid:
    return NotValid(
        f"{message} Notices stay off on this phone; what is due stands in the app as ever.",
        code="push-address-refused",
        where="endpoint",
        fix="Switch notices off and on again. If it stays so, ask whoever runs the server to add "
        "the push service of this phone.",
    )
