"""Opening an invitation: once, in time, by the right phone; and again when the answer was lost."""

from __future__ import annotations

import pytest
from phones import first_owner, joined, opening, services_of

JOIN = "/api/v1/devices"


def code_of(answer):
    return answer.status_code, answer.json["code"]


def test_a_script_joins_and_gets_a_bearer(app, client, owner):
    body = opening(app, owner.invite("grower"), "Ines Halm", "IH")
    answer = client.post(JOIN, json=body)
    assert answer.status_code == 201
    assert answer.json["person"] == body["person"]
    assert answer.json["device"] == body["device"]
    assert answer.json["logbook"] == {"id": owner.logbook, "name": "Ferns of the Ostrel"}
    bearer = {"Authorization": f"Bearer {answer.json['token']}"}
    me = app.test_client().get("/api/v1/me", headers=bearer).json
    assert me["person"] == body["person"]
    assert me["logbooks"] == [{**answer.json["logbook"], "role": "grower"}]


def test_an_invitation_opens_once(app, client, owner):
    code = owner.invite("grower")
    assert client.post(JOIN, json=opening(app, code)).status_code == 201
    second = app.test_client().post(JOIN, json=opening(app, code))
    assert code_of(second) == (409, "invitation-used")
    assert len(owner.get("…/people").json["people"]) == 2


def test_an_invitation_expires(app, client, owner, wall):
    code = owner.invite("grower")
    wall.forward(hours=71.9)
    still_good = owner.invite("grower")
    wall.forward(hours=0.2)
    assert code_of(client.post(JOIN, json=opening(app, code))) == (409, "invitation-expired")
    assert client.post(JOIN, json=opening(app, still_good)).status_code == 201


def test_a_code_may_be_typed_loosely(app, client, owner):
    code = owner.invite("grower")
    loose = f" {code.lower().replace('-', ' ')} "
    assert client.post(JOIN, json=opening(app, loose)).status_code == 201


@pytest.mark.parametrize("code", ["2222-2222", "x", "ZZZZ-ZZZZ-ZZZZ", "'; --"])
def test_a_code_that_is_none(app, client, owner, code):
    assert code_of(client.post(JOIN, json=opening(app, code))) == (404, "no-such-invitation")


def test_taken_back_it_opens_nothing(app, client, owner):
    made = owner.post("…/invitations", {"role": "grower"}).json
    assert owner.delete(f"…/invitations/{made['id']}").status_code == 204
    answer = client.post(JOIN, json=opening(app, made["code"]))
    assert code_of(answer) == (404, "no-such-invitation")


def test_a_lost_answer_can_be_asked_for_again(app, owner):
    body = opening(app, owner.invite("grower"))
    lost = app.test_client().post(JOIN, json=body).json["token"]
    again = app.test_client().post(JOIN, json=body)
    assert again.status_code == 201
    token = again.json["token"]
    ask = app.test_client().get
    assert ask("/api/v1/me", headers={"Authorization": f"Bearer {lost}"}).status_code == 401
    assert ask("/api/v1/me", headers={"Authorization": f"Bearer {token}"}).status_code == 200
    assert len(owner.get("…/people").json["people"]) == 2


def test_once_the_session_was_used_nobody_else_can_repeat_it(app, owner):
    body = opening(app, owner.invite("grower"))
    token = app.test_client().post(JOIN, json=body).json["token"]
    bearer = {"Authorization": f"Bearer {token}"}
    assert app.test_client().get("/api/v1/me", headers=bearer).status_code == 200
    assert code_of(app.test_client().post(JOIN, json=body)) == (409, "invitation-used")
    with_session = app.test_client().post(JOIN, json=body, headers=bearer)
    assert (with_session.status_code, "token" in with_session.json) == (201, False)


def test_another_phone_cannot_repeat_it(app, owner):
    body = opening(app, owner.invite("grower"))
    app.test_client().post(JOIN, json=body)
    other = {**body, "device": {"id": services_of(app).ids.new(), "label": "other"}}
    assert code_of(app.test_client().post(JOIN, json=other)) == (409, "invitation-used")


def test_nobody_becomes_a_person_who_is_known(app, client, owner):
    body = opening(app, owner.invite("grower"))
    body["person"]["id"] = owner.person
    assert code_of(client.post(JOIN, json=body)) == (409, "person-taken")
    assert len(owner.get("…/people").json["people"][0]["devices"]) == 1


def test_nobody_takes_a_phone_that_is_known(app, client, owner):
    body = opening(app, owner.invite("grower"))
    body["device"]["id"] = owner.device
    assert code_of(client.post(JOIN, json=body)) == (409, "device-taken")
    assert owner.get("/api/v1/me").status_code == 200


def test_a_refused_opening_does_not_spend_the_invitation(app, client, owner):
    body = opening(app, owner.invite("grower"))
    refused = {**body, "device": {**body["device"], "id": owner.device}}
    assert client.post(JOIN, json=refused).status_code == 409
    assert client.post(JOIN, json=body).status_code == 201


def test_a_further_phone_is_the_same_person(app, owner):
    further = owner.further()
    assert further.person == owner.person
    assert further.device != owner.device
    assert further.get("/api/v1/me").json["logbooks"][0]["role"] == "owner"
    assert len(owner.get("…/people").json["people"]) == 1


def test_a_further_phone_need_not_say_who(app, client, owner):
    body = opening(app, owner.invite(person=owner.person))
    body["person"] = None
    assert client.post(JOIN, json=body).json["person"]["id"] == owner.person


def test_someone_new_must_say_who(app, client, owner):
    body = opening(app, owner.invite("grower"))
    del body["person"]
    assert code_of(client.post(JOIN, json=body)) == (422, "not-valid")


def test_a_signed_in_phone_joins_a_second_logbook_and_keeps_its_session(app, owner, wall):
    wall.forward(seconds=1)
    other = first_owner(app, "Other ferns")
    body = opening(app, other.invite("watcher"))
    body["person"]["id"], body["device"]["id"] = owner.person, owner.device
    answer = owner.post(JOIN, body)
    assert (answer.status_code, "token" in answer.json) == (201, False)
    books = owner.get("/api/v1/me").json["logbooks"]
    assert [(book["name"], book["role"]) for book in books] == [
        ("Ferns of the Ostrel", "owner"),
        ("Other ferns", "watcher"),
    ]


def test_an_invitation_never_lowers_a_role(app, owner):
    body = opening(app, owner.invite("onlooker"))
    body["person"]["id"], body["device"]["id"] = owner.person, owner.device
    assert owner.post(JOIN, body).status_code == 201
    assert owner.get("/api/v1/me").json["logbooks"][0]["role"] == "owner"


def test_a_signed_out_phone_comes_back_as_itself(app, client, owner):
    grower = owner.brings("grower")
    grower.delete("/api/v1/session")
    body = opening(app, owner.invite(person=grower.person))
    body["device"]["id"] = grower.device
    grower.token = client.post(JOIN, json=body).json["token"]
    assert grower.get("/api/v1/me").json["person"]["id"] == grower.person


def test_another_persons_invitation_does_not_take_over_a_phone(app, client, owner):
    grower = owner.brings("grower")
    body = opening(app, owner.invite(person=owner.person))
    body["device"]["id"] = grower.device
    assert code_of(client.post(JOIN, json=body)) == (409, "device-taken")
    assert grower.get("/api/v1/me").status_code == 200


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"invitation": ""}, "invitation"),
        ({"device": {"id": "no-uuid", "label": "x"}}, "device.id"),
        ({"device": None}, "device"),
        ({"person": {"id": "A" * 36, "name": "n", "initials": "i"}}, "person.id"),
        ({"person": {"name": "n", "initials": "i"}}, "person.id"),
    ],
)
def test_what_is_wrong_is_named(app, client, change, where):
    body = {**opening(app, "2222-2222"), **change}
    answer = client.post(JOIN, json=body)
    assert (answer.status_code, answer.json["code"], answer.json["where"]) == (
        422,
        "not-valid",
        where,
    )


@pytest.mark.parametrize("name", ["\x00", "a\nb", " ", "\ud800", "n" * 201])
def test_a_name_is_one_line_of_text(app, client, owner, name):
    body = opening(app, owner.invite("grower"))
    body["person"]["name"] = name
    answer = client.post(JOIN, json=body)
    assert (answer.status_code, answer.json["where"]) == (422, "person.name")


def test_newer_phones_may_say_more(app, client, owner):
    body = opening(app, owner.invite("grower"))
    body["device"]["battery"] = 3
    assert client.post(JOIN, json=body).status_code == 201


def test_two_phones_with_one_code_at_once(app, owner):
    """Of many at the same time exactly one gets in."""
    from concurrent.futures import ThreadPoolExecutor

    code = owner.invite("grower")
    bodies = [opening(app, code) for _ in range(6)]

    def post(body):
        return app.test_client().post(JOIN, json=body).status_code

    with ThreadPoolExecutor(6) as pool:
        answers = sorted(pool.map(post, bodies))
    assert answers == [201, 409, 409, 409, 409, 409]
    assert len(owner.get("…/people").json["people"]) == 2


def test_tries_are_limited_and_successes_are_not_counted(app, client, owner):
    for _ in range(12):
        joined(app, owner.invite("onlooker"))
    answers = [client.post(JOIN, json=opening(app, "2222-2222")) for _ in range(11)]
    assert [answer.status_code for answer in answers] == [404] * 10 + [429]
    assert answers[-1].json["code"] == "too-many"
    assert int(answers[-1].headers["Retry-After"]) > 0
    elsewhere = {"REMOTE_ADDR": "192.0.2.7"}
    other = client.post(JOIN, json=opening(app, "2222-2222"), environ_base=elsewhere)
    assert other.status_code == 404
