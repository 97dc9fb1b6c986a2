import fc from "fast-check";
import { expect, test } from "vitest";
import { canonical } from "../../../pwa/src/kernel/canonical";
import { mergeStamp } from "../../../pwa/src/kernel/clock";
import type { Json } from "../../../pwa/src/sync/ports";
import { runs, SEED } from "./seed";
import { type Action, type Fault, World } from "./world";

const RUNS = runs(150);
const HOUR = 3_600_000;

const phone = fc.nat(2);
const about = fc.nat(3);
const pick = fc.nat(20);
const fault = fc.constantFrom<Fault>(
	...([
		"none",
		"none",
		"lost",
		"answer-lost",
		"doubled",
		"portal",
		"broken",
		"killed",
		"killed-after",
		"restored",
	] as const),
);
const action: fc.Arbitrary<Action> = fc.oneof(
	{
		weight: 8,
		arbitrary: fc.record({
			do: fc.constant("write" as const),
			...{ phone, about, pick },
			how: fc.constantFrom("fact", "fact", "describe", "strike", "held"),
		}),
	},
	{
		weight: 8,
		arbitrary: fc.record({
			do: fc.constant("exchange" as const),
			phone,
			faults: fc.array(fault, { maxLength: 6 }),
		}),
	},
	{
		weight: 1,
		arbitrary: fc.record({
			do: fc.constant("photo" as const),
			phone,
			about,
			bytes: fc.integer({ min: 1, max: 300 }),
		}),
	},
	{
		weight: 1,
		arbitrary: fc.record({
			do: fc.constant("clock" as const),
			phone,
			ms: fc.constantFrom(
				262_000,
				-262_000,
				HOUR,
				-HOUR,
				10 * 365 * 24 * HOUR,
				-60 * 365 * 24 * HOUR,
			),
		}),
	},
	{
		weight: 1,
		arbitrary: fc.record({
			do: fc.constant("pass" as const),
			ms: fc.integer({ min: 1, max: 7 * 24 * HOUR }),
		}),
	},
	{ weight: 1, arbitrary: fc.record({ do: fc.constant("replay" as const), pick }) },
	{ weight: 1, arbitrary: fc.record({ do: fc.constant("kill" as const), phone }) },
	{ weight: 1, arbitrary: fc.constant({ do: "back-up" as const }) },
	{
		weight: 1,
		arbitrary: fc.record({ do: fc.constant("restore" as const), byTool: fc.boolean() }),
	},
);

const story = fc.record({
	seed: fc.integer({ min: 1, max: 2 ** 30 }),
	page: fc.constantFrom(2, 5, 50),
	actions: fc.array(action, { minLength: 10, maxLength: 70, size: "max" }),
});
type Story = typeof story extends fc.Arbitrary<infer T> ? T : never;

async function played({ seed, page, actions }: Story): Promise<World> {
	const world = new World(3, seed, page);
	for (const one of actions) await world.play(one);
	await world.heal();
	return world;
}

const byId = (rows: { id: string }[]) => Object.fromEntries(rows.map((row) => [row.id, row]));

/** Where an entry stands: `received` itself may differ where it changes no order. */
function standing(one: {
	id: string;
	seq: number | null;
	state: string;
	received: number | null;
	made: string;
}) {
	const { id, seq, state, received, made } = one;
	return { id, seq, state, stamp: mergeStamp(made, received) };
}

test(`phones, a bad network and a server that goes back end alike, seed ${SEED}`, async () => {
	console.log(`simulation: seed ${SEED}, ${RUNS} runs (SPORELINE_TEST_SEED, SPORELINE_TEST_RUNS)`);
	await fc.assert(
		fc.asyncProperty(story, async (told) => {
			const { server, phones, saved, pictures } = await played(told);
			const truth = byId(server.lines.map(standing));
			for (const one of phones) {
				expect(await one.vault.unsent()).toEqual({ count: 0, oldestMade: null });
				const here = one.vault.rows.map((row) => standing({ ...row, made: row.entry.made }));
				expect(byId(here)).toEqual(truth);
				expect(one.records).toEqual(phones[0]?.records);
			}
			const contents = byId(phones[0]?.vault.rows.map(({ id, entry }) => ({ id, entry })) ?? []);
			for (const [id, text] of saved) {
				const kept = contents[id] as unknown as { entry: Json } | undefined;
				expect(kept && canonical(kept.entry), `${id} was called saved`).toBe(
					canonical(JSON.parse(text)),
				);
			}
			for (const [sha256, bytes] of pictures) expect(server.photo(sha256)).toEqual(bytes);
			expect(new Set(server.lines.map(({ seq }) => seq)).size).toBe(server.lines.length);
		}),
		{ seed: SEED, numRuns: RUNS },
	);
}, 120_000);

test("the same seed twice leaves the same trace", async () => {
	const [told] = fc.sample(story, { seed: 7, numRuns: 1 });
	const [one, two] = [await played(told as Story), await played(told as Story)];
	expect(one.trace.length).toBeGreaterThan(20);
	expect(two.trace).toEqual(one.trace);
});
