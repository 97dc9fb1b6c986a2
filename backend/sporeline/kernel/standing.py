"""Which entries are struck out: strikes can be struck themselves."""

from collections import Counter
from collections.abc import Mapping
from typing import Any

from sporeline.kernel.record import Entry


def struck_ids(here: Mapping[str, Entry]) -> set[str]:
    """Ids of the entries with a standing strike. An entry stands when it has no strike or all of
    its strikes are struck; what stays undecided (a ring of strikes) stands."""
    target_of = _targets(here)
    left = Counter(target_of.values())
    standing = [strike for strike in target_of if strike not in left]
    struck: set[str] = set()
    while standing:
        fallen = target_of[standing.pop()]
        if fallen in struck:
            continue
        struck.add(fallen)
        freed = target_of.get(fallen)
        if freed is not None:
            left[freed] -= 1
            if left[freed] == 0 and freed in target_of:
                standing.append(freed)
    return struck


def _targets(here: Mapping[str, Entry]) -> dict[str, str]:
    """What each strike strikes. A strike counts when it is filed under the same records as its
    target: then every record that has the one has the other, and none shows what another has
    struck."""
    targets = {}
    for entry in here.values():
        if entry["kind"] == "entry.struck" and entry.get("state") != "held":
            target = here.get(_target(entry))
            if target is not None and filed_under(entry) == filed_under(target):
                targets[entry["id"]] = target["id"]
    return targets


def _target(strike: Entry) -> Any:
    target = strike["data"].get("entry")
    return target if isinstance(target, str) else None


def filed_under(entry: Entry) -> tuple[Any, frozenset[Any]]:
    """`about`, and the records in `also`; the order of `also` and its absence say nothing."""
    also = entry.get("also")
    ids = also if isinstance(also, list) else []
    return entry.get("about"), frozenset(i for i in ids if isinstance(i, str))
