"""Where this phone takes notices: what is accepted, what is refused, whose it is."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Any

import push_sink
import pytest
from flask import Flask
from phones import Phone, first_owner, services_of

from sporeline.app import create_app
from sporeline.settings import Settings

ADDRESS = "fcm.googleapis.com"
MINE = "/api/v1/devices/me/push"


def subscription(name: str = "one", **changed: Any) -> dict[str, Any]:
    made = push_sink.Phone(ADDRESS, name, scheme="https").subscription
    keys = {"p256dh": made.p256dh, "auth": made.auth}
    return {"endpoint": made.endpoint, "keys": keys, **changed}


def put(phone: Phone, body: Any) -> Any:
    return phone.call("PUT", MINE, json=body)


def state(phone: Phone) -> str:
    return str(phone.get(MINE).json["state"])


def test_the_key_is_a_p256_point(owner: Phone) -> None:
    answer = owner.get("/api/v1/push/key")
    assert answer.status_code == 200
    assert len(answer.json["key"]) == 87


def test_on_and_off(owner: Phone) -> None:
    assert state(owner) == "off"
    answer = put(owner, subscription(expirationTime=None))
    assert (answer.status_code, answer.json) == (200, {"state": "on"})
    assert put(owner, subscription()).status_code == 200
    assert state(owner) == "on"
    assert owner.delete(MINE).status_code == 204
    assert owner.delete(MINE).status_code == 204
    assert state(owner) == "off"


def test_without_a_session_nothing(app: Flask) -> None:
    client = app.test_client()
    for method, path in [("GET", "/api/v1/push/key"), ("GET", MINE), ("DELETE", MINE)]:
        assert client.open(path, method=method).status_code == 401
    assert client.put(MINE, json=subscription()).status_code == 401


@pytest.mark.parametrize(
    ("body", "code", "where"),
    [
        (subscription(endpoint="https://127.0.0.1/x"), "push-address-refused", "endpoint"),
        (subscription(endpoint="http://fcm.googleapis.com/x"), "push-address-refused", "endpoint"),
        (subscription(keys={"p256dh": "AAAA", "auth": "A" * 22}), "push-keys-refused", "p256dh"),
        (
            subscription(keys={"p256dh": "BA" + "A" * 85, "auth": "A" * 22}),
            "push-keys-refused",  # 65 octets that are no point of the curve
            "p256dh",
        ),
        (
            subscription(keys={**subscription()["keys"], "auth": "A" * 20}),
            "push-keys-refused",
            "auth",
        ),
        (
            subscription(keys={**subscription()["keys"], "auth": "ä" * 22}),
            "push-keys-refused",
            "auth",
        ),
        ({"endpoint": "https://fcm.googleapis.com/x"}, "not-valid", "keys"),
        (subscription(keys={"auth": "A" * 22}), "not-valid", "p256dh"),
        (subscription(endpoint=7), "not-valid", "endpoint"),
    ],
)
def test_what_cannot_be_used_is_refused(
    owner: Phone, body: dict[str, Any], code: str, where: str
) -> None:
    answer = put(owner, body)
    assert (answer.status_code, answer.json["code"]) == (422, code)
    assert where in answer.json["where"]
    assert answer.json["fix"]
    assert state(owner) == "off"


def test_padded_keys_are_as_good(owner: Phone) -> None:
    keys = {name: f"{text}==" for name, text in subscription()["keys"].items() if name == "auth"}
    body = subscription()
    assert put(owner, {**body, "keys": {**body["keys"], **keys}}).status_code == 200


def test_one_browser_belongs_to_whoever_used_it_last(owner: Phone) -> None:
    shared = subscription("shared")
    other = owner.brings("grower")
    put(owner, shared)
    put(other, shared)
    assert (state(owner), state(other)) == ("off", "on")


def test_a_new_subscription_of_a_phone_replaces_its_former_one(owner: Phone) -> None:
    put(owner, subscription("one"))
    put(owner, subscription("two"))
    third = owner.further()
    put(third, subscription("one"))
    assert (state(owner), state(third)) == ("on", "on")


def test_ten_phones_are_enough(owner: Phone) -> None:
    phones = [owner, *(owner.further() for _ in range(10))]
    answers = [put(phone, subscription(str(n))) for n, phone in enumerate(phones)]
    assert [answer.status_code for answer in answers] == [200] * 10 + [409]
    assert answers[-1].json["code"] == "too-many-phones"
    assert put(phones[0], subscription("0")).status_code == 200
    phones[3].delete(MINE)
    assert put(phones[10], subscription("10")).status_code == 200


def test_a_subscription_made_with_another_key_is_to_be_renewed(owner: Phone) -> None:
    assert put(owner, subscription(key="BOtherKey")).json == {"state": "renew"}
    present = owner.get("/api/v1/push/key").json["key"]
    assert put(owner, subscription(key=present)).json == {"state": "on"}


@pytest.fixture
def silent_app(settings: Settings) -> Iterator[Flask]:
    """A server that nobody may write to: no contact, plain http on this machine."""
    app = create_app(dataclasses.replace(settings, public_url="http://localhost:8300"))
    yield app
    services_of(app).database.close()


def test_without_a_contact_there_are_no_notices(silent_app: Flask) -> None:
    phone = first_owner(silent_app)
    assert phone.get("/api/v1/push/key").json == {"key": None}
    answer = put(phone, subscription())
    assert (answer.status_code, answer.json["code"]) == (503, "no-notices-here")
    assert state(phone) == "off"
