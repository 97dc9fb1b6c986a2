"""What each role may do: the one place that says so."""

from __future__ import annotations

from typing import Literal, get_args

from sporeline.errors import NotAllowed, NotValid

Role = Literal["owner", "grower", "watcher", "onlooker"]
Action = Literal["see", "see-positions", "look", "write", "people"]
"""see: read the records · see-positions: entries kept to growers · look: answer looks and rounds
· write: any entry · people: invite, change roles, shut out"""

MAY: dict[Role, frozenset[Action]] = {
    "owner": frozenset({"see", "see-positions", "look", "write", "people"}),
    "grower": frozenset({"see", "see-positions", "look", "write"}),
    "watcher": frozenset({"see", "look"}),
    "onlooker": frozenset({"see"}),
}
ROLES: tuple[Role, ...] = get_args(Role)


def may(role: Role, action: Action) -> bool:
    """Whether a person of this role may do that."""
    return action in MAY[role]


def require(role: Role, action: Action) -> None:
    """:raise NotAllowed: the role does not go that far."""
    if not may(role, action):
        raise NotAllowed


def role_named(name: str) -> Role:
    """:raise NotValid: no such role."""
    if name not in ROLES:
        raise NotValid(f"“{name}” is not a role.", where="role", fix=f"One of: {', '.join(ROLES)}.")
    return name


def greater(one: Role, other: Role) -> Role:
    """The one of the two that may do more."""
    return min(one, other, key=ROLES.index)
