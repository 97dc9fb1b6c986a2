// Which entries are struck out: strikes can be struck themselves.

import type { FoldEntry } from "./record";

type Here = ReadonlyMap<string, FoldEntry>;

/**
 * Ids of the entries with a standing strike. An entry stands when it has no strike or all of its
 * strikes are struck; what stays undecided (a ring of strikes) stands.
 */
export function struckIds(here: Here): Set<string> {
	const targetOf = targets(here);
	const left = new Map<string, number>();
	for (const target of targetOf.values()) left.set(target, (left.get(target) ?? 0) + 1);
	const standing = [...targetOf.keys()].filter((strike) => !left.has(strike));
	const struck = new Set<string>();
	for (let strike = standing.pop(); strike !== undefined; strike = standing.pop()) {
		const fallen = targetOf.get(strike) as string;
		if (struck.has(fallen)) continue;
		struck.add(fallen);
		const freed = targetOf.get(fallen);
		if (freed === undefined) continue;
		const still = (left.get(freed) ?? 0) - 1;
		left.set(freed, still);
		if (still === 0 && targetOf.has(freed)) standing.push(freed);
	}
	return struck;
}

/**
 * What each strike strikes. A strike counts when it is filed under the same records as its target:
 * then every record that has the one has the other, and none shows what another has struck.
 */
function targets(here: Here): Map<string, string> {
	const found = new Map<string, string>();
	for (const entry of here.values()) {
		if (entry.kind !== "entry.struck" || entry.state === "held") continue;
		const target = here.get(entry.data.entry as string);
		if (target && sameFiling(entry, target)) found.set(entry.id, target.id);
	}
	return found;
}

/** The order of `also` and its absence say nothing. */
function sameFiling(one: FoldEntry, other: FoldEntry): boolean {
	const [mine, theirs] = [alsoOf(one), alsoOf(other)];
	return (
		one.about === other.about &&
		mine.size === theirs.size &&
		[...mine].every((id) => theirs.has(id))
	);
}

function alsoOf(entry: FoldEntry): Set<string> {
	const also: unknown = entry.also;
	return new Set(Array.isArray(also) ? also.filter((id) => typeof id === "string") : []);
}
