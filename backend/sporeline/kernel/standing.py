"""Which entries are struck out: strikes can be struck themselves."""

from collections.abc import Collection, Mapping
from typing import Any

from sporeline.kernel.record import Entry


def struck_ids(here: Mapping[str, Entry]) -> set[str]:
    """Ids of the entries with a standing strike. An entry stands when it has no strike or all of
    its strikes are struck; what stays undecided (a ring of strikes) stands."""
    strikes = _strikes_by_target(here)
    targets_of: dict[str, list[str]] = {}
    for target, its_strikes in strikes.items():
        for strike in its_strikes:
            targets_of.setdefault(strike, []).append(target)
    open_strikes = {target: len(its_strikes) for target, its_strikes in strikes.items()}
    standing = [strike for strike in targets_of if strike not in strikes]
    struck: set[str] = set()
    while standing:
        for target in targets_of[standing.pop()]:
            if target not in struck:
                struck.add(target)
                standing += _freed(targets_of.get(target, ()), open_strikes, targets_of)
    return struck


def _freed(
    targets: Collection[str], open_strikes: dict[str, int], strikers: Collection[str]
) -> list[str]:
    """A strike on `targets` has fallen: those that have no other left, and strike something."""
    freed = []
    for target in targets:
        open_strikes[target] -= 1
        if open_strikes[target] == 0 and target in strikers:
            freed.append(target)
    return freed


def _strikes_by_target(here: Mapping[str, Entry]) -> dict[str, set[str]]:
    """A strike counts when it is filed under the same records as what it strikes: then every
    record that has the one has the other, and none shows what another has struck."""
    strikes: dict[str, set[str]] = {}
    for entry in here.values():
        if entry["kind"] == "entry.struck" and entry.get("state") != "held":
            target = here.get(_target(entry))
            if target is not None and filed_under(entry) == filed_under(target):
                strikes.setdefault(target["id"], set()).add(entry["id"])
    return strikes


def _target(strike: Entry) -> Any:
    target = strike["data"].get("entry")
    return target if isinstance(target, str) else None


def filed_under(entry: Entry) -> tuple[Any, frozenset[Any]]:
    """`about`, and the records in `also`; the order of `also` and its absence say nothing."""
    also = entry.get("also")
    ids = also if isinstance(also, list) else []
    return entry.get("about"), frozenset(i for i in ids if isinstance(i, str))
