// Which entries are struck out: strikes can be struck themselves.

import { put } from "./grouping";
import type { FoldEntry } from "./record";

type Here = ReadonlyMap<string, FoldEntry>;

/**
 * Ids of the entries with a standing strike. An entry stands when it has no strike or all of its
 * strikes are struck; what stays undecided (a ring of strikes) stands.
 */
export function struckIds(here: Here): Set<string> {
	const strikes = strikesByTarget(here);
	const targetsOf = new Map<string, string[]>();
	for (const [target, itsStrikes] of strikes) {
		for (const strike of itsStrikes) put(targetsOf, strike, target);
	}
	const open = new Map([...strikes].map(([target, itsStrikes]) => [target, itsStrikes.length]));
	const standing = [...targetsOf.keys()].filter((strike) => !strikes.has(strike));
	const struck = new Set<string>();
	for (let strike = standing.pop(); strike !== undefined; strike = standing.pop()) {
		for (const target of targetsOf.get(strike) ?? []) {
			if (struck.has(target)) continue;
			struck.add(target);
			standing.push(...freed(targetsOf.get(target) ?? [], open).filter((id) => targetsOf.has(id)));
		}
	}
	return struck;
}

/** A strike on `targets` has fallen: those that have no other left. */
function freed(targets: string[], open: Map<string, number>): string[] {
	return targets.filter((target) => {
		const left = (open.get(target) ?? 0) - 1;
		open.set(target, left);
		return left === 0;
	});
}

/**
 * A strike counts when it is filed under the same records as what it strikes: then every record
 * that has the one has the other, and none shows what another has struck.
 */
function strikesByTarget(here: Here): Map<string, string[]> {
	const strikes = new Map<string, string[]>();
	for (const entry of here.values()) {
		if (entry.kind !== "entry.struck" || entry.state === "held") continue;
		const target = here.get(entry.data.entry as string);
		if (target && sameFiling(entry, target)) put(strikes, target.id, entry.id);
	}
	return strikes;
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
