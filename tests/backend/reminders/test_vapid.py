"""The server's own key: made once, private, and a contact that push services accept."""

from __future__ import annotations

from pathlib import Path

import pytest

from sporeline.reminders.vapid import Vapid, contact_from, keep_key


def test_the_key_is_made_once_and_only_the_server_may_read_it(tmp_path: Path) -> None:
    first, second = keep_key(tmp_path), keep_key(tmp_path)
    assert first == second
    (path,) = (tmp_path / "secrets").iterdir()
    assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o700


def test_two_servers_have_two_keys(tmp_path: Path) -> None:
    keys = {Vapid(keep_key(tmp_path / name), "mailto:a@b.example").public for name in "ab"}
    assert len(keys) == 2
    assert all(len(key) == 87 for key in keys)  # 65 bytes in base64url


CONTACTS = [
    ("mailto:grower@example.org", "https://ferns.example.org", "mailto:grower@example.org"),
    ("https://example.org/contact", "http://localhost:8300", "https://example.org"),
    ("", "https://ferns.example.org", "https://ferns.example.org"),
    ("", "https://ferns.example.org:8443", "https://ferns.example.org"),
    ("", "http://ferns.example.org", None),
    ("", "http://localhost:8300", None),
    ("", "https://localhost", None),
    ("", "https://192.168.1.4", None),
    ("", "https://pi.local", None),
    ("mailto:x@localhost", "https://ferns.example.org", None),
    ("mailto:@example.org", "https://ferns.example.org", None),
    ("mailto:x", "https://ferns.example.org", None),
    ("x@example.org", "https://ferns.example.org", None),
]


@pytest.mark.parametrize(("setting", "public_url", "expected"), CONTACTS)
def test_contact(setting: str, public_url: str, expected: str | None) -> None:
    assert contact_from(setting, public_url) == expected


@pytest.mark.parametrize("contact", sorted({c for *_, c in CONTACTS if c}))
def test_an_accepted_contact_can_be_signed(tmp_path: Path, contact: str) -> None:
    signed = Vapid(keep_key(tmp_path), contact).authorization("https://web.push.apple.com", 0)
    assert signed.startswith("vapid t=")
