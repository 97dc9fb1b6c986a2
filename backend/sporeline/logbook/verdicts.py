"""Whether an entry counts or is held, and who may see it.

Judged once, at first receipt: from the entry, the day, and the role of the session that brings it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sporeline.contract.faults import Fault, fault
from sporeline.contract.judging import days_ahead, faults_of, half_characters
from sporeline.logbook.offered import Offered
from sporeline.people import Session
from sporeline.people.roles import Role, may

LOOKS = frozenset(
    (
        "growth.seen",
        "sori.seen",
        "trouble.begun",
        "trouble.ended",
        "shelf.walked",
        "task.answered",
        "photo.taken",
    )
)
"""What someone may write who looks and does not open. Not strikes: whose entry one strikes cannot
be told from the strike."""

OWN_SETTINGS = frozenset(("person.described", "record.described"))
"""What anyone may write about themselves: their name, and when they want to be told."""

AT_RECEIPT = frozenset(("ahead-of-today", "role-does-not-allow"))
"""Found by the day and the session, so never judged anew."""


def judge(offered: Offered, session: Session, role: Role, today: str) -> list[Fault]:
    """All that is wrong; nothing: it is stored and counts."""
    faults = faults_of(offered.content) + days_ahead(offered.content, today)
    if not offered.whole_text:
        faults.append(half_characters())
    if not _may_write(offered.content, session, role):
        faults.append(fault("role-does-not-allow", ""))
    return faults


def only_for(content: Mapping[str, Any]) -> str | None:
    """The author, when the entry is kept from those who may not see positions; else None.

    Only a position said to be for all is: a held one of unknown shape is not.
    """
    if content.get("kind") != "place.fixed":
        return None
    data = content.get("data")
    if isinstance(data, dict) and data.get("audience") == "all":
        return None
    return str(content.get("by"))


def _may_write(content: Mapping[str, Any], session: Session, role: Role) -> bool:
    if may(role, "write"):
        return True
    kind = content.get("kind")
    if kind in LOOKS and may(role, "look"):
        return True
    return kind in OWN_SETTINGS and content.get("about") == session.person
