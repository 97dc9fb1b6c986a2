// Made-up entries about one record, well-formed or held, for property tests.

import fc from "fast-check";
import type { FoldEntry, Json, Kinds } from "../../../pwa/src/kernel/record";

export const RECORD = "S";
const DAY_ZERO = 0x019de28d3c00;

export const KINDS: Kinds = {
	"record.described": { v: [1], nature: "description" },
	"box.described": { v: [1], nature: "description" },
	"growth.seen": {
		v: [1],
		nature: "fact",
		state: { name: "growth", field: "growth" },
		sums: { plants: "plants" },
	},
	"trouble.begun": {
		v: [1, 2],
		nature: "fact",
		state: { name: "trouble", by: "trouble", value: true },
		implies: "box",
	},
	"entry.struck": { v: [1], nature: "strike" },
};

const values = fc.constantFrom<Json>(
	null,
	true,
	1,
	0,
	"",
	"a",
	"🌿",
	{ b: 1, a: [] },
	{ a: [], b: 1 },
);
const at = fc.constantFrom(
	"2026-05-01",
	"2026-05-02",
	"2026-05-01T12:00:00+02:00",
	"2026-05-01T12:00:00-05:00",
);
const filing = fc.constantFrom<{ about: string; also?: string[] }>(
	{ about: RECORD },
	{ about: RECORD, also: ["T", "U"] },
	{ about: RECORD, also: ["U", "T"] },
	{ about: "T", also: [RECORD] },
);
const stamp = fc
	.tuple(fc.constantFrom(0, 1, 60_000, 60_001, 90_000), fc.nat(2), fc.constantFrom("a", "b"))
	.map(([ms, counter, node]) => {
		return `0${(DAY_ZERO + ms).toString(16)}-0000000${counter}-${node.repeat(16)}`;
	});

function dataOf(kind: string, ids: string[]): fc.Arbitrary<{ [field: string]: Json }> {
	if (kind === "entry.struck") return fc.record({ entry: fc.constantFrom(...ids) });
	if (kind === "growth.seen") {
		return fc.record({
			growth: fc.constantFrom("nothing", "green_film"),
			plants: fc.integer({ min: -2, max: 2 }),
		});
	}
	if (kind === "trouble.begun") return fc.record({ trouble: fc.constantFrom("mould", "slime") });
	return fc.dictionary(fc.constantFrom("name", "note", "🌿"), values, { noNullPrototype: true });
}

function entry(id: string, ids: string[]): fc.Arbitrary<FoldEntry> {
	const kinds = [...Object.keys(KINDS), "entry.struck", "record.described", "box.weighed"];
	return fc.constantFrom(...kinds).chain((kind) =>
		fc
			.record({
				v: fc.constantFrom(1, 1, 1, 2),
				filed: filing,
				at,
				made: stamp,
				data: dataOf(kind, ids),
				some: fc.array(fc.constantFrom(...ids, "x"), { maxLength: 3 }),
				state: fc.constantFrom("stored", "stored", "stored", "held"),
				received: fc.constantFrom(null, DAY_ZERO, DAY_ZERO + 30_000),
			})
			.map(({ filed, some, ...rest }) => ({
				id,
				kind,
				...filed,
				...rest,
				...(kind.endsWith("described") ? { seen: { name: some, note: some } } : {}),
			})),
	);
}

export const entries: fc.Arbitrary<FoldEntry[]> = fc.nat(9).chain((n) => {
	const ids = Array.from({ length: n }, (_, i) => `e${i}`);
	return fc.tuple(...ids.map((id) => entry(id, ids)));
});
