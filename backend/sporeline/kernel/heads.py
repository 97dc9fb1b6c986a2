"""Which descriptions of a field are open: those that no other one has seen and gone past."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sporeline.kernel.record import Entry

Links = Mapping[str, Sequence[str]]


def links_of(field: str, entries: Iterable[Entry]) -> dict[str, list[str]]:
    """For each entry, live or not, the entries that its `seen` names for the field."""
    links = {}
    for entry in entries:
        seen = entry.get("seen")
        ids: Any = seen.get(field) if isinstance(seen, Mapping) else None
        if isinstance(ids, list) and ids:
            links[entry["id"]] = [i for i in ids if isinstance(i, str)]
    return links


def heads_of(candidates: Sequence[str], links: Links) -> list[str]:
    """The candidates with no candidate over them. X is over Y when links lead from X to Y and none
    from Y to X, so entries in a cycle of links are not over one another. Linear in the links."""
    order = _finish_order(candidates, links)
    back = _reversed_links(order, links)
    wanted = set(candidates)
    placed: set[str] = set()
    below: set[str] = set()
    heads: list[str] = []
    for start in reversed(order):
        if start not in placed:
            component = _reachable(start, back, placed)
            covered = any(newer in below for each in component for newer in back.get(each, ()))
            found = [each for each in component if each in wanted]
            if covered or found:
                below |= component
            if not covered:
                heads += found
    return heads


def _finish_order(starts: Iterable[str], links: Links) -> list[str]:
    """All entries that links lead to, in the order in which a depth-first walk leaves them."""
    order: list[str] = []
    met: set[str] = set()
    for start in starts:
        walk = [(start, iter(links.get(start, ())))] if start not in met else []
        met.add(start)
        while walk:
            entry, onward = walk[-1]
            unmet = next((i for i in onward if i not in met), None)
            if unmet is None:
                order.append(entry)
                walk.pop()
            else:
                met.add(unmet)
                walk.append((unmet, iter(links.get(unmet, ()))))
    return order


def _reversed_links(order: Sequence[str], links: Links) -> dict[str, list[str]]:
    back: dict[str, list[str]] = {}
    for entry in order:
        for seen in links.get(entry, ()):
            back.setdefault(seen, []).append(entry)
    return back


def _reachable(start: str, back: Links, placed: set[str]) -> set[str]:
    """Walked backwards in the order of Kosaraju, this is the cycle that `start` belongs to."""
    component = {start}
    placed.add(start)
    walk = [start]
    while walk:
        for newer in back.get(walk.pop(), ()):
            if newer not in placed:
                placed.add(newer)
                component.add(newer)
                walk.append(newer)
    return component
