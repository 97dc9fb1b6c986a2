// Which descriptions of a field are open: those that no other one has seen and gone past.

import { put } from "./grouping";
import type { FoldEntry } from "./record";

export type Links = ReadonlyMap<string, readonly string[]>;

/** For each entry, live or not, the entries that its `seen` names for the field. */
export function linksOf(field: string, entries: Iterable<FoldEntry>): Map<string, string[]> {
	const links = new Map<string, string[]>();
	for (const entry of entries) {
		const seen: unknown = entry.seen;
		if (typeof seen !== "object" || seen === null || !Object.hasOwn(seen, field)) continue;
		const ids: unknown = (seen as { [field: string]: unknown })[field];
		if (Array.isArray(ids))
			links.set(
				entry.id,
				ids.filter((id) => typeof id === "string"),
			);
	}
	return links;
}

/**
 * The candidates with no candidate over them. X is over Y when links lead from X to Y and none from
 * Y to X, so entries in a cycle of links are not over one another. Linear in the links.
 */
export function headsOf(candidates: readonly string[], links: Links): string[] {
	const order = finishOrder(candidates, links);
	const back = reversedLinks(order, links);
	const wanted = new Set(candidates);
	const placed = new Set<string>();
	const below = new Set<string>();
	const heads: string[] = [];
	for (const start of order.reverse()) {
		if (placed.has(start)) continue;
		const component = reachable(start, back, placed);
		const covered = component.some((each) => (back.get(each) ?? []).some((id) => below.has(id)));
		const found = component.filter((each) => wanted.has(each));
		if (covered || found.length > 0) for (const each of component) below.add(each);
		if (!covered) heads.push(...found);
	}
	return heads;
}

/** All entries that links lead to, in the order in which a depth-first walk leaves them. */
function finishOrder(starts: readonly string[], links: Links): string[] {
	const order: string[] = [];
	const met = new Set<string>();
	for (const start of starts) {
		const walk = met.has(start) ? [] : [{ entry: start, next: 0 }];
		met.add(start);
		for (let top = walk.at(-1); top !== undefined; top = walk.at(-1)) {
			const onward = links.get(top.entry) ?? [];
			while (top.next < onward.length && met.has(onward[top.next] as string)) top.next++;
			const unmet = onward[top.next];
			if (unmet === undefined) {
				order.push(top.entry);
				walk.pop();
			} else {
				met.add(unmet);
				walk.push({ entry: unmet, next: 0 });
			}
		}
	}
	return order;
}

function reversedLinks(order: readonly string[], links: Links): Map<string, string[]> {
	const back = new Map<string, string[]>();
	for (const entry of order) {
		for (const seen of links.get(entry) ?? []) put(back, seen, entry);
	}
	return back;
}

/** Walked backwards in the order of Kosaraju, this is the cycle that `start` belongs to. */
function reachable(start: string, back: Links, placed: Set<string>): string[] {
	const component = [start];
	placed.add(start);
	for (const each of component) {
		for (const newer of back.get(each) ?? []) {
			if (placed.has(newer)) continue;
			placed.add(newer);
			component.push(newer);
		}
	}
	return component;
}
