/** The book of the tests and pictures: a line from plant to box, notes, questions, people. Invented data. */
import { signal } from "@preact/signals";
import type {
	FoldedRecord,
	Found,
	PersonRow,
	ServerDesk,
	StoredEntry,
} from "../../../pwa/src/records/desk";
import { stored, today, records as wood } from "../field/wood";
import { type FakeDesk, fakeDesk, type Shown } from "../gallery/fake-desk";
import { boxOf, named, record } from "../gallery/records";

export const person = (id: string, name: string, initials: string) =>
	record("person", name, { id, fields: { "person.described": { initials } } });

export const packet58 = record("packet", "packet 58", {
	id: "p58",
	fields: {
		"packet.described": { from: "mv27" },
		"record.described": { name: "packet 58", code: "4T7MQ2" },
	},
	facts: { "box.placed": "2025-08-27" },
});

const fixed = (lat_e7: number, lon_e7: number, uncertainty_m: number) => ({
	lat_e7,
	lon_e7,
	uncertainty_m,
	datum: "WGS84",
	audience: "growers",
});

/** Two people named one place and fixed it apart. */
export const weir: FoldedRecord = {
	...record("place", "Ostrel Wood, by the weir", {
		id: "weir",
		fields: { "place.fixed": fixed(541240200, -24321000, 9) },
	}),
	questions: [
		{
			kind: "record.described",
			field: "name",
			heads: ["weir-mv", "weir-jo"],
			values: ["Ostrel Wood, by the weir", "Ostrel weir bank"],
		},
		{
			kind: "place.fixed",
			field: "lon_e7",
			heads: ["fix-mv", "fix-jo"],
			values: [-24321000, -24317800],
		},
		{
			kind: "place.fixed",
			field: "lat_e7",
			heads: ["fix-mv", "fix-jo"],
			values: [541240200, 541239500],
		},
	],
};

export const sown = boxOf({
	n: 17,
	shelf: "north",
	taxon: "Athyrium filix-femina",
	sown: "2026-05-03",
	growth: ["green_film", "2026-08-11"],
	packet: "p58",
});

const jo = { by: "jonna" };
const by = (one: StoredEntry, over: object): StoredEntry => ({
	...one,
	entry: { ...one.entry, ...over },
});

export const entries: StoredEntry[] = [
	stored("box-17", "growth.seen", "2026-08-11T08:10:00+01:00", { growth: "green_film" }),
	stored(
		"box-17",
		"growth.seen",
		"2026-08-02T08:12:00+01:00",
		{ growth: "green_film" },
		{ id: "algae" },
	),
	stored(
		"box-17",
		"entry.struck",
		"2026-08-02T19:00:00+01:00",
		{ entry: "algae", reason: "algae, not fern" },
		{ id: "strike" },
	),
	stored("box-17", "cover.set", "2026-05-03T18:40:00+01:00", { cover: "closed" }),
	stored("box-17", "record.described", "2026-05-03T18:40:00+01:00", {
		name: "box 17",
		note: "half of the box",
	}),
	by(
		stored(
			"weir",
			"record.described",
			"2024-05-02T10:00:00+01:00",
			{ name: "Ostrel Wood, by the weir" },
			{ id: "weir-mv" },
		),
		{},
	),
	by(
		stored(
			"weir",
			"record.described",
			"2026-05-03T10:00:00+01:00",
			{ name: "Ostrel weir bank" },
			{ id: "weir-jo" },
		),
		jo,
	),
	stored("weir", "place.fixed", "2024-05-02T10:00:00+01:00", fixed(541240200, -24321000, 9), {
		id: "fix-mv",
	}),
	by(
		stored("weir", "place.fixed", "2026-05-03T10:00:00+01:00", fixed(541239500, -24317800, 12), {
			id: "fix-jo",
		}),
		jo,
	),
];

export const unsent: StoredEntry[] = [
	stored(
		"box-17",
		"growth.seen",
		`${today}T09:31:00+01:00`,
		{ growth: "green_film" },
		{ state: "unsent", seq: null },
	),
	stored(
		"lady",
		"sori.seen",
		`${today}T14:19:00+01:00`,
		{ ripeness: "ripe" },
		{ state: "unsent", seq: null },
	),
	stored("lady", "photo.taken", `${today}T14:19:00+01:00`, {}, { state: "unsent", seq: null }),
	stored(
		"mv27",
		"frond.cut",
		`${today}T14:20:00+01:00`,
		{ taken: "pinna" },
		{ state: "unsent", seq: null },
	),
];

/** Written on 3 May 2026, with a year that cannot be. */
const madeOn3May = Date.parse("2026-05-03T17:40:00Z").toString(16).padStart(12, "0");
export const heldDay: StoredEntry = by(
	stored(
		"sowing-17",
		"spores.sown",
		"2062-05-03",
		{ density: "right" },
		{
			id: "held-day",
			state: "held",
			errors: [
				{
					code: "ahead-of-today",
					where: "at",
					message: "2062-05-03 lies ahead.",
					fix: "Choose the day on which it was.",
				},
			],
		},
	),
	{ made: `${madeOn3May}-00000000-00000000000000a1` },
);
export const heldRipeness = stored(
	"lady",
	"sori.seen",
	"2026-08-04T10:00:00+01:00",
	{ ripeness: "brownish", way: "eye" },
	{
		id: "held-ripeness",
		state: "held",
		errors: [
			{
				code: "not-one-of",
				where: "data.ripeness",
				message: "“brownish” is not a ripeness.",
				fix: "Choose none, young, turning, ripe, spent or unseen.",
			},
		],
	},
);

const box17 = sown[0] as FoldedRecord;
export const records: FoldedRecord[] = [
	...wood,
	packet58,
	weir,
	{ ...box17, struck: ["algae"] },
	...sown.slice(1),
	record("shelf", "north shelf", {
		id: "north",
		fields: { "shelf.described": { stands: "shelf", light: "lamps" } },
	}),
	record("packet", "packet 61", {
		id: "p61",
		fields: { "name.given": named("Polystichum setiferum", "received") },
		facts: { "packet.received": "2026-08-01" },
	}),
	person("mirela", "Mirela Vask", "MV"),
	person("jonna", "Jonna Orrit", "JO"),
];

export const people: PersonRow[] = [
	{
		id: "mirela",
		name: "Mirela Vask",
		initials: "MV",
		role: "owner",
		devices: [
			{ id: "phone", label: "Mirela’s phone", lastSeen: "2026-08-18T13:00:00Z", shutOut: false },
			{ id: "old", label: "old tablet", lastSeen: "2025-11-02T13:00:00Z", shutOut: true },
		],
	},
	{
		id: "jonna",
		name: "Jonna Orrit",
		initials: "JO",
		role: "grower",
		devices: [
			{ id: "jo-phone", label: "Jonna’s phone", lastSeen: "2026-08-17T18:30:00Z", shutOut: false },
		],
	},
];

export interface BookShown extends Shown {
	fixing?: StoredEntry[];
	unsent?: StoredEntry[];
	found?: Found[];
	server?: Partial<ServerDesk>;
}

export function bookDesk(shown: BookShown = {}): FakeDesk {
	const desk = fakeDesk({ today, records, entries, ...shown });
	const note = (verb: string, ...args: unknown[]) => void desk.called.push({ verb, args });
	const server: Partial<ServerDesk> = {
		people: async () => people,
		invitations: async () => [],
		invite: async (input) => {
			note("server.invite", input);
			return {
				code: "4T7M-Q2RK",
				url: "https://ferns.example/join#4T7M-Q2RK",
				expires: "2026-08-21T14:20:00+01:00",
			};
		},
		shutOut: async (...args) => note("server.shutOut", ...args),
		setRole: async (...args) => note("server.setRole", ...args),
		calendarLink: async () => "https://ferns.example/calendar/9f2c.ics",
		push: signal("off"),
		turnPushOn: async () => note("server.turnPushOn"),
		...shown.server,
	};
	return Object.assign(desk, {
		server,
		needsFixing: async () => shown.fixing ?? [],
		unsentEntries: async () => shown.unsent ?? unsent,
		search: () => shown.found ?? [],
	});
}
