"""Who shares a logbook: roles, leaving, shutting phones out, invitations."""

from __future__ import annotations

from itertools import pairwise

import pytest
from phones import first_owner, opening

from sporeline.people.roles import MAY, ROLES, greater


def told(answer):
    return answer.status_code, answer.json["code"]


def roles(owner):
    people = owner.get("…/people").json["people"]
    return {person["id"]: person["role"] for person in people}


def test_all_members_with_their_phones(owner, wall):
    wall.forward(seconds=1)
    grower = owner.brings("grower", "Ines Halm", "IH")
    wall.forward(seconds=1)
    further = owner.further()
    first, second = grower.get("…/people").json["people"]
    assert (first["id"], first["role"]) == (owner.person, "owner")
    assert [phone["id"] for phone in first["devices"]] == [owner.device, further.device]
    assert second["name"] == "Ines Halm"
    assert second["devices"][0]["last_seen"] == "2026-05-02T12:00:02Z"
    assert first["devices"][1] == {
        "id": further.device,
        "label": "phone of Marte Voss",
        "last_seen": None,
        "shut_out": None,
    }
    assert owner.get(f"…/people/{grower.person}").json == second


def test_an_owner_changes_a_role(owner):
    grower = owner.brings("grower")
    answer = owner.call("PATCH", f"…/people/{grower.person}", json={"role": "watcher"})
    assert (answer.status_code, answer.json["role"]) == (200, "watcher")
    assert grower.get("/api/v1/me").json["logbooks"][0]["role"] == "watcher"


def test_the_last_owner_stays(owner):
    demoting = owner.call("PATCH", f"…/people/{owner.person}", json={"role": "grower"})
    assert told(demoting) == (409, "last-owner")
    assert told(owner.delete(f"…/people/{owner.person}")) == (409, "last-owner")
    second = owner.brings("owner")
    assert owner.delete(f"…/people/{owner.person}").status_code == 204
    assert roles(second) == {second.person: "owner"}


def test_who_was_removed_is_a_stranger(owner):
    grower = owner.brings("grower")
    assert owner.delete(f"…/people/{grower.person}").status_code == 204
    assert told(grower.get("…/people")) == (404, "no-such-logbook")
    assert grower.get("/api/v1/me").json["logbooks"] == []
    assert roles(owner) == {owner.person: "owner"}


@pytest.mark.parametrize("role", ["grower", "watcher", "onlooker"])
def test_only_owners_decide_about_people(owner, role):
    member = owner.brings(role)
    open_one = owner.post("…/invitations", {"role": "grower"}).json["id"]
    tries = [
        member.post("…/invitations", {"role": "onlooker"}),
        member.post("…/invitations", {"person": owner.person}),
        member.get("…/invitations"),
        member.delete(f"…/invitations/{open_one}"),
        member.call("PATCH", f"…/people/{member.person}", json={"role": "owner"}),
        member.delete(f"…/people/{owner.person}"),
        member.delete(f"…/devices/{owner.device}"),
    ]
    assert [told(answer) for answer in tries] == [(403, "not-allowed")] * len(tries)
    assert roles(owner) == {owner.person: "owner", member.person: role}
    assert owner.get("/api/v1/me").status_code == 200


def test_everyone_may_bring_a_further_phone_of_their_own(owner):
    watcher = owner.brings("watcher")
    further = watcher.further()
    assert further.get("/api/v1/me").json["logbooks"][0]["role"] == "watcher"


def test_a_lost_phone_is_shut_out_at_the_next_request(owner, wall):
    grower = owner.brings("grower")
    wall.forward(seconds=1)
    further = grower.further()
    assert owner.delete(f"…/devices/{grower.device}").status_code == 204
    assert told(grower.get("…/people")) == (401, "shut-out")
    assert told(grower.get("/api/v1/me")) == (401, "shut-out")
    assert further.get("/api/v1/me").status_code == 200
    phones = owner.get(f"…/people/{grower.person}").json["devices"]
    assert [phone["shut_out"] for phone in phones] == ["2026-05-02T12:00:01Z", None]


def test_a_person_shuts_out_their_own_lost_phone_everywhere(app, owner):
    grower = owner.brings("grower")
    other = first_owner(app, "Other ferns")
    body = opening(app, other.invite("grower"))
    body["person"]["id"], body["device"]["id"] = grower.person, grower.device
    assert grower.post("/api/v1/devices", body).status_code == 201
    further = grower.further()
    assert further.delete(f"…/devices/{grower.device}").status_code == 204
    assert told(grower.get("/api/v1/me")) == (401, "shut-out")
    assert told(grower.get(f"/api/v1/logbooks/{other.logbook}/people")) == (401, "shut-out")


def test_one_logbooks_owner_does_not_judge_for_another(app, owner):
    grower = owner.brings("grower")
    other = first_owner(app, "Other ferns")
    body = opening(app, other.invite("grower"))
    body["person"]["id"], body["device"]["id"] = grower.person, grower.device
    grower.post("/api/v1/devices", body)
    owner.delete(f"…/devices/{grower.device}")
    assert told(grower.get("…/people")) == (401, "shut-out")
    assert grower.get(f"/api/v1/logbooks/{other.logbook}/people").status_code == 200
    books = grower.get("/api/v1/me").json["logbooks"]
    assert [book["id"] for book in books] == [other.logbook]
    seen_by_other = other.get(f"…/people/{grower.person}").json["devices"]
    assert [phone["shut_out"] for phone in seen_by_other] == [None]


def test_a_found_phone_is_let_in_by_a_new_invitation(app, client, owner):
    grower = owner.brings("grower")
    owner.delete(f"…/devices/{grower.device}")
    body = opening(app, owner.invite(person=grower.person))
    body["device"]["id"] = grower.device
    grower.token = client.post("/api/v1/devices", json=body).json["token"]
    assert grower.get("…/people").status_code == 200


def test_a_shut_out_phone_does_not_come_back_by_an_invitation_for_someone_new(app, client, owner):
    grower = owner.brings("grower")
    owner.delete(f"…/devices/{grower.device}")
    body = opening(app, owner.invite("grower"))
    body["person"]["id"], body["device"]["id"] = grower.person, grower.device
    with_old_token = grower.post("/api/v1/devices", body)
    assert told(with_old_token) == (409, "person-taken")


def test_the_phone_in_the_hand_is_not_shut_out(owner):
    assert told(owner.delete(f"…/devices/{owner.device}")) == (409, "this-phone")
    assert owner.get("/api/v1/me").status_code == 200


def test_a_strangers_phone_is_not_there(app, owner):
    stranger = first_owner(app, "Other ferns")
    absent = "0190a000-0000-7000-8000-000000000009"
    answers = [owner.delete(f"…/devices/{id}") for id in (stranger.device, absent)]
    assert [told(answer) for answer in answers] == [(404, "no-such-device")] * 2
    assert answers[0].json == answers[1].json
    assert stranger.get("/api/v1/me").status_code == 200


def test_a_strangers_person_is_not_there(app, owner):
    stranger = first_owner(app, "Other ferns")
    answers = [
        owner.get(f"…/people/{stranger.person}"),
        owner.delete(f"…/people/{stranger.person}"),
        owner.call("PATCH", f"…/people/{stranger.person}", json={"role": "grower"}),
        owner.post("…/invitations", {"person": stranger.person}),
    ]
    assert [told(answer) for answer in answers] == [(404, "no-such-person")] * 4


def test_open_invitations_are_listed_without_their_codes(app, client, owner, wall):
    used = owner.post("…/invitations", {"role": "grower"}).json
    client.post("/api/v1/devices", json=opening(app, used["code"]))
    old = owner.post("…/invitations", {"role": "grower"}).json
    wall.forward(hours=70)
    new = owner.post("…/invitations", {"role": "watcher"}).json
    assert len(owner.get("…/invitations").json["invitations"]) == 2
    wall.forward(hours=3)
    listed = owner.get("…/invitations").json["invitations"]
    assert listed == [
        {
            "id": new["id"],
            "role": "watcher",
            "person": None,
            "by": owner.person,
            "expires": "2026-05-08T10:00:00Z",
        }
    ]
    assert old["expires"] == "2026-05-05T12:00:00Z"


def test_an_invitation_carries_its_code_after_the_hash(owner):
    made = owner.post("…/invitations", {"role": "grower"}).json
    assert made["url"] == f"https://ferns.example/join#{made['code']}"
    alphabet = set("23456789ABCDEFGHJKMNPQRSTVWXYZ")
    assert set(made["code"].replace("-", "")) <= alphabet
    assert len(made["code"]) == 9


def test_another_logbooks_invitation_is_not_taken_back(app, owner):
    stranger = first_owner(app, "Other ferns")
    theirs = stranger.post("…/invitations", {"role": "grower"}).json
    assert told(owner.delete(f"…/invitations/{theirs['id']}")) == (404, "no-such-invitation")
    assert len(stranger.get("…/invitations").json["invitations"]) == 1


def test_a_role_that_is_none_is_refused(owner):
    grower = owner.brings("grower")
    bad = owner.call("PATCH", f"…/people/{grower.person}", json={"role": "king"})
    assert (bad.status_code, bad.json["where"]) == (422, "role")


def test_each_role_may_what_the_next_one_may_and_more():
    assert list(MAY) == list(ROLES)
    for more, less in pairwise(ROLES):
        assert MAY[more] > MAY[less]
        assert greater(less, more) == greater(more, less) == more
    assert MAY["onlooker"] == {"see"}
    assert "see-positions" not in MAY["watcher"]
