/** The wood of the field tests and pictures: plants with places, cuts, packets. Invented data. */
import { signal } from "@preact/signals";
import type { Desk, Fix, FoldedRecord, StoredEntry } from "../../../pwa/src/records/desk";
import { type FakeDesk, fakeDesk, type Shown } from "../gallery/fake-desk";
import { named, record } from "../gallery/records";

export const today = "2026-08-18";

const fixed = (lat_e7: number, lon_e7: number, uncertainty_m: number) => ({
	lat_e7,
	lon_e7,
	uncertainty_m,
	datum: "WGS84",
	audience: "growers",
});

export const ford = record("place", "Ostrel Wood, by the ford", {
	id: "ford",
	fields: {
		"place.described": { owner: "the wood’s keeper", permit: "asked at the gate", grown: "wild" },
		"place.fixed": fixed(541234000, -24321000, 9),
	},
});
export const lady = record("plant", "plant 3", {
	id: "lady",
	fields: {
		"plant.described": { place: "ford", colony: false },
		"name.given": named("Athyrium filix-femina"),
		"place.fixed": fixed(541236000, -24321500, 8),
	},
	states: { ripeness: ["turning", "2026-08-04"] },
	facts: { "sori.seen": "2026-08-04T10:10:00+01:00" },
});
export const scaly = record("plant", "plant 2", {
	id: "scaly",
	fields: {
		"plant.described": { place: "ford" },
		"name.given": { ...named("Dryopteris affinis", "probable"), qualifier: "cf" },
		"place.fixed": fixed(541257000, -24280000, 12),
	},
	states: { ripeness: ["ripe", "2025-07-19"] },
	facts: { "sori.seen": "2025-07-19T11:00:00+01:00" },
});
/** Its place is known in words only. */
export const hart = record("plant", "plant 4", {
	id: "hart",
	fields: {
		"plant.described": { place: "garden" },
		"name.given": named("Asplenium scolopendrium"),
	},
	facts: { "sori.seen": "2025-09-20T15:00:00+01:00" },
	states: { ripeness: ["ripe", "2025-09-20"] },
});
export const garden = record("place", "Fold garden", {
	id: "garden",
	fields: { "place.described": { owner: "ours", grown: "garden" } },
});
export const cut27 = record("gathering", "MV 27", {
	id: "mv27",
	fields: {
		"record.described": {},
		"gathering.described": { number: "MV 27", plant: "lady", place: "ford" },
	},
	facts: { "frond.cut": "2025-08-27T12:00:00+01:00" },
});

export const records: FoldedRecord[] = [ford, lady, scaly, hart, garden, cut27];

/** Some steps from plant 3. */
export const atLady: Fix = {
	lat_e7: 541236300,
	lon_e7: -24321300,
	uncertainty_m: 8,
	at: `${today}T14:19:50+01:00`,
};
/** 340 m south-west of plant 2's and plant 3's wood. */
export const onTheWay: Fix = { ...atLady, lat_e7: 541217000, lon_e7: -24362000 };

let made = 0;
export function stored(
	about: string,
	kind: string,
	at: string,
	data: StoredEntry["entry"]["data"],
	over: Partial<StoredEntry> = {},
): StoredEntry {
	made += 1;
	const id = over.id ?? `entry-${made}`;
	return {
		id,
		entry: { id, kind, v: 1, about, at, made: `${made}`.padStart(12, "0"), by: "mirela", data },
		state: "stored",
		seq: made,
		received: 0,
		errors: [],
		vouched: true,
		via: null,
		checking: false,
		...over,
	};
}

export const ladyNotes: StoredEntry[] = [
	stored("lady", "sori.seen", "2024-08-31T10:00:00+01:00", { ripeness: "ripe" }),
	stored("lady", "sori.seen", "2025-08-04T10:00:00+01:00", { ripeness: "young" }),
	stored("lady", "frond.cut", "2025-08-27T12:00:00+01:00", { taken: "pinna" }),
	stored("lady", "sori.seen", "2026-08-04T10:10:00+01:00", { ripeness: "turning" }),
];

export function woodDesk(shown: Shown = {}, fix: Fix | null = null): FakeDesk {
	const desk = fakeDesk({ today, records, entries: ladyNotes, ...shown });
	const position: Desk["position"] = signal({ state: fix ? "here" : "waiting", fix });
	return Object.assign(desk, { position });
}
