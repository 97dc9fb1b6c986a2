"""The phone's push service, played by the test.

A headless Chromium has no push service, so the subscription is replaced by one that leads to a
sink on this machine; what arrives there is decrypted by an independent RFC 8291 implementation and
handed to the real service worker, as a browser does.
"""

from __future__ import annotations

import json
import os
from typing import Any

from cryptography.hazmat.primitives.asymmetric import ec
from push_sink import PushSink

from tests.outside.rfc8291 import UserAgent

from .hand import Hand

REPLACED = """
(() => {
  const subscription = %s;
  let current = null;
  const make = () => ({
    endpoint: subscription.endpoint,
    expirationTime: null,
    options: { userVisibleOnly: true },
    getKey: () => null,
    toJSON: () => subscription,
    unsubscribe: async () => { current = null; return true; },
  });
  PushManager.prototype.subscribe = async () => (current ??= make());
  PushManager.prototype.getSubscription = async () => current;
})()
"""


class PushedPhone:
    """One subscription, and the way from the sink to the phone's service worker."""

    def __init__(self, sink: PushSink, hand: Hand, name: str) -> None:
        self.sink, self.hand = sink, hand
        self.agent = UserAgent(ec.generate_private_key(ec.SECP256R1()), os.urandom(16))
        self.path = f"/push/{name}"
        keys = self.agent.subscription_keys
        subscription = {"endpoint": f"http://{sink.host}{self.path}", "keys": keys}
        hand.context.add_init_script(REPLACED % json.dumps(subscription))
        self.delivered = 0

    def arrived(self) -> list[dict[str, Any]]:
        """All messages that reached this subscription, decrypted."""
        bodies = [each.body for each in self.sink.received if each.path == self.path]
        return [json.loads(self.agent.read(body)) for body in bodies]

    def await_message(self, count: int) -> dict[str, Any]:
        """Until `count` messages have arrived; the last of them."""
        for _ in range(600):
            if len(messages := self.arrived()) >= count:
                return messages[-1]
            self.hand.page.wait_for_timeout(100)
        raise AssertionError(f"{len(self.arrived())} of {count} notices arrived")

    def deliver(self, message: dict[str, Any]) -> None:
        """To the service worker, with no signal needed here."""
        session = self.hand.context.new_cdp_session(self.hand.page)
        registrations: dict[str, str] = {}

        def noted(event: dict[str, Any]) -> None:
            for one in event["registrations"]:
                registrations[one["scopeURL"]] = one["registrationId"]

        session.on("ServiceWorker.workerRegistrationUpdated", noted)
        session.send("ServiceWorker.enable")
        scope = f"{self.hand.url}/"
        while scope not in registrations:
            self.hand.page.wait_for_timeout(20)
        session.send(
            "ServiceWorker.deliverPushMessage",
            {
                "origin": self.hand.url,
                "registrationId": registrations[scope],
                "data": json.dumps(message),
            },
        )

    def shown(self) -> list[list[str]]:
        """Title, body and tag of each notice that is on the lock screen."""
        return self.hand.page.evaluate(
            "navigator.serviceWorker.ready.then(r => r.getNotifications())"
            ".then(all => all.map(n => [n.title, n.body, n.tag]))"
        )

    def await_shown(self, body: str) -> list[str]:
        """Until the only notice on the lock screen has this in its body."""
        for _ in range(200):
            notices = self.shown()
            if len(notices) == 1 and body in notices[0][1]:
                return notices[0]
            self.hand.page.wait_for_timeout(50)
        raise AssertionError(f"not “{body}” but {self.shown()}")
