// The simulation runs on a vault in memory; here the same calls on it and on the real one say the same.

import "fake-indexeddb/auto";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { ExchangeChange, Line, Store } from "../../../pwa/src/sync/ports";
import { entry, fresh, saving } from "../storage/fixtures";
import { MemoryVault } from "./memory-vault";
import { SEED } from "./seed";

type Call =
	| { call: "save"; n: number }
	| { call: "verdict" | "refuse" | "line"; n: number; seq: number; held: boolean }
	| { call: "begin" }
	| { call: "settle"; lacks: number[]; after: number };

const n = fc.nat(12);
const call: fc.Arbitrary<Call> = fc.oneof(
	{ weight: 3, arbitrary: fc.record({ call: fc.constant("save" as const), n }) },
	{
		weight: 4,
		arbitrary: fc.record({
			call: fc.constantFrom("verdict", "refuse", "line"),
			...{ n, seq: fc.integer({ min: 1, max: 99 }), held: fc.boolean() },
		}),
	},
	{ weight: 1, arbitrary: fc.constant({ call: "begin" as const }) },
	{
		weight: 1,
		arbitrary: fc.record({ call: fc.constant("settle" as const), lacks: fc.array(n), after: n }),
	},
);

const id = (i: number) => `e${String(i).padStart(7, "0")}`;
const made = (i: number) =>
	entry(id(i), "R", { made: `019de9d8e900-${String(i).padStart(8, "0")}-00000000000000a1` });

function change(one: Call & { n: number; seq: number; held: boolean }): ExchangeChange {
	const state = one.held ? ("held" as const) : ("stored" as const);
	const said = { seq: one.seq, state, received: 1000 + one.seq };
	const mark = { epoch: "E", seq: one.seq, entry: id(one.n) };
	const error = { code: "too-large", where: null, message: "", fix: null };
	return {
		verdicts: one.call === "verdict" ? [{ id: id(one.n), ...said }] : [],
		refused: one.call === "refuse" ? [{ id: id(one.n), error }] : [],
		lines: one.call === "line" ? [{ ...made(one.n), ...said } as Line] : [],
		...{ outlooks: [], cursor: mark, high: mark, numbers: [] },
		server: { clockOffMs: 0, shiftDays: 0, backedUp: null, atMs: 0 },
		moveClock: (stored) => stored,
	};
}

const rowOf = ({
	id,
	entry,
	seq,
	state,
	received,
}: {
	id: string;
	entry: unknown;
	seq: number | null;
	state: string;
	received: number | null;
}) => ({
	...{ id, entry, seq, state, received },
});

test(`both vaults say the same, seed ${SEED}`, async () => {
	console.log(`vault twin: seed ${SEED} (SPORELINE_TEST_SEED)`);
	await fc.assert(
		fc.asyncProperty(fc.array(call, { maxLength: 25 }), async (calls) => {
			const { storage } = await fresh();
			const memory = new MemoryVault({ person: "P" } as never);
			const both: [Store, Store] = [storage.exchange, memory];
			const saved = new Set<number>();
			for (const one of calls) {
				if (one.call === "save") {
					if (memory.rows.some((row) => row.id === id(one.n))) continue;
					saved.add(one.n);
					await storage.records.save(saving(made(one.n)));
					memory.save(made(one.n));
				} else if (one.call === "begin")
					await Promise.all(both.map((store) => store.beginChecking()));
				else if (one.call === "settle") {
					const next = { epoch: "E", stage: "entries" as const, after: id(one.after) };
					const lacks = [...new Set(one.lacks)].map(id);
					const touched = await Promise.all(
						both.map((store) => store.settleChecked(lacks, [], next)),
					);
					expect(new Set(touched[1])).toEqual(new Set(touched[0]));
				} else await Promise.all(both.map((store) => store.applyExchange(change(one))));
			}
			const [real, model] = await Promise.all(
				both.map(async (store) => ({
					standing: await store.standing(),
					outbox: (await store.outbox(99, new Set([id(3)]))).map(rowOf),
					unsent: await store.unsent(),
					toCheck: await store.idsToCheck(id(4), 5),
				})),
			);
			expect(model).toEqual(real);
			const rows = await storage.records.entries([...Array(13).keys()].map(id));
			expect([...memory.rows].sort((a, b) => (a.id < b.id ? -1 : 1)).map(rowOf)).toEqual(
				rows.map(rowOf),
			);
		}),
		{ seed: SEED, numRuns: 60 },
	);
}, 60_000);
