// The fold gives one record whatever the order, the copies or the batches.

import fc from "fast-check";
import { expect, test } from "vitest";
import { canonical } from "../../../pwa/src/kernel/canonical";
import { fold } from "../../../pwa/src/kernel/fold";
import { headsOf } from "../../../pwa/src/kernel/heads";
import type { FoldEntry, Json } from "../../../pwa/src/kernel/record";
import { entries, KINDS, RECORD } from "./made-up";

const folded = (given: Iterable<FoldEntry>) =>
	canonical(fold(RECORD, given, KINDS) as unknown as Json);

test("any order", () => {
	const shuffled = entries.chain((all) =>
		fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length })),
	);
	fc.assert(
		fc.property(shuffled, ([all, other]) => {
			expect(folded(other)).toBe(folded(all));
		}),
	);
});

test("any copies, the phone's own not yet received", () => {
	const copied = entries.chain((all) => fc.tuple(fc.constant(all), fc.subarray(all)));
	fc.assert(
		fc.property(copied, ([all, copies]) => {
			const unsent = copies.map((each) => ({ ...each, received: null, state: "unsent" }));
			for (const given of [
				[...copies, ...all],
				[...all, ...unsent],
				[...unsent, ...all],
			]) {
				expect(folded(given)).toBe(folded(all));
			}
		}),
	);
});

test("any batches, each folded as it comes", () => {
	const batched = entries.chain((all) =>
		fc.tuple(
			fc.constant(all),
			fc.array(fc.nat(3), { minLength: all.length, maxLength: all.length }),
		),
	);
	fc.assert(
		fc.property(batched, ([all, batchOf]) => {
			const store = new Map<string, FoldEntry>();
			for (const batch of [3, 1, 0, 2]) {
				for (const [i, each] of all.entries()) if (batchOf[i] === batch) store.set(each.id, each);
				folded(store.values());
			}
			expect(folded(store.values())).toBe(folded(all));
		}),
	);
});

test("every entry has one place, and every field shows its first head", () => {
	fc.assert(
		fc.property(entries, (all) => {
			const { facts, struck, held, unknown, fields, heads } = fold(RECORD, all, KINDS);
			const placed = [...facts, ...struck, ...held, ...unknown];
			expect(new Set(placed).size).toBe(placed.length);
			const values = new Map(all.map(({ id, data }) => [id, data]));
			for (const [kind, shown] of Object.entries(fields)) {
				for (const [field, value] of Object.entries(shown)) {
					const [first = ""] = heads[kind]?.[field] ?? [];
					expect(value).toStrictEqual(values.get(first)?.[field]);
				}
			}
		}),
	);
});

test("heads as the rule says it: no candidate is over them", () => {
	const nodes = ["a", "b", "c", "d", "e", "f"];
	const node = fc.constantFrom(...nodes);
	const graph = fc
		.array(fc.tuple(node, fc.array(node, { maxLength: 3 })))
		.map((all) => new Map(all));
	fc.assert(
		fc.property(graph, fc.subarray(nodes), (links, wanted) => {
			const reach = new Map(nodes.map((each) => [each, reached(each, links)]));
			const over = (x: string, y: string) => reach.get(x)?.has(y) && !reach.get(y)?.has(x);
			const heads = wanted.filter((y) => !wanted.some((x) => over(x, y)));
			expect(headsOf(wanted, links).sort()).toStrictEqual(heads);
		}),
	);
});

function reached(start: string, links: Map<string, string[]>): Set<string> {
	const found = new Set<string>();
	const ends = [...(links.get(start) ?? [])];
	for (let end = ends.pop(); end !== undefined; end = ends.pop()) {
		if (found.has(end)) continue;
		found.add(end);
		ends.push(...(links.get(end) ?? []));
	}
	return found;
}
