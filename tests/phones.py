"""Phones for tests: what a script with a bearer token can do, in the process or over HTTP."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from flask import Flask
from werkzeug.test import TestResponse

from sporeline.api import Services
from sporeline.people import Offer
from sporeline.people.roles import Role


def services_of(app: Flask) -> Services:
    """What the app was wired with."""
    services: Services = app.extensions["sporeline"]
    return services


@dataclass
class Phone:
    """A signed-in phone of one person in one logbook of the app under test."""

    app: Flask
    token: str
    person: str
    device: str
    logbook: str

    def call(self, method: str, path: str, **given: Any) -> TestResponse:
        """Any request with this phone's token; `…` at the start of a path is its logbook."""
        path = path.replace("…", f"/api/v1/logbooks/{self.logbook}", 1)
        headers = {"Authorization": f"Bearer {self.token}", **given.pop("headers", {})}
        return self.app.test_client().open(path, method=method, headers=headers, **given)

    def get(self, path: str, **given: Any) -> TestResponse:
        return self.call("GET", path, **given)

    def post(self, path: str, json: Any = None, **given: Any) -> TestResponse:
        return self.call("POST", path, json=json, **given)

    def delete(self, path: str, **given: Any) -> TestResponse:
        return self.call("DELETE", path, **given)

    def invite(self, role: Role = "grower", person: str | None = None) -> str:
        """The code of a new invitation to this phone's logbook."""
        answer = self.post("…/invitations", {"role": role, "person": person})
        assert answer.status_code == 201, answer.json
        return str(answer.json["code"])

    def brings(self, role: Role, name: str = "Ines Halm", initials: str = "IH") -> Phone:
        """Another person's phone, invited by this one."""
        return joined(self.app, self.invite(role), name, initials)

    def further(self) -> Phone:
        """A further phone of the same person."""
        return joined(self.app, self.invite(person=self.person))


def opening(app: Flask, code: str, name: str = "Marte Voss", initials: str = "MV") -> Any:
    """The body with which a new person's new phone opens an invitation."""
    new = services_of(app).ids.new
    return {
        "invitation": code,
        "device": {"id": new(), "label": f"phone of {name}"},
        "person": {"id": new(), "name": name, "initials": initials},
    }


def joined(app: Flask, code: str, name: str = "Marte Voss", initials: str = "MV") -> Phone:
    """A new phone that opened the invitation, as a script does (no Origin)."""
    answer = app.test_client().post("/api/v1/devices", json=opening(app, code, name, initials))
    assert answer.status_code == 201, answer.json
    given = answer.json
    return Phone(
        app, given["token"], given["person"]["id"], given["device"]["id"], given["logbook"]["id"]
    )


def first_owner(app: Flask, logbook_name: str = "Ferns of the Ostrel") -> Phone:
    """The owner of a new logbook, invited by the operator."""
    people = services_of(app).people
    logbook = people.found_logbook(logbook_name)
    return joined(app, people.invite(Offer(logbook, "owner")).code)
