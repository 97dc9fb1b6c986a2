/** The scenes of the gallery: the same desk states that the tests of the screens use. Invented data. */
import type { Json, StoredEntry, Task } from "../../../pwa/src/records/desk";
import type { Shown } from "./fake-desk";
import { boxOf, named, record, sowingOf, type ToldBox } from "./records";

export const today = "2026-08-18";

export const task = (over: Partial<Task> & Pick<Task, "subject" | "rule">): Task => ({
	id: `${over.subject}/${over.rule}/2026-08-04`,
	due: today,
	until: null,
	ask: ["nothing", "green_film", "slime", "mould", "too_wet", "dry", "later"],
	from_outlook: false,
	covers: [],
	...over,
});

const taxa = [
	"Dryopteris affinis",
	"Athyrium filix-femina",
	"Polypodium vulgare",
	"Asplenium scolopendrium",
	"Polystichum setiferum",
	"Osmunda regalis",
];
const stages = ["nothing", "green_film", "green_film", "prothalli", "nothing", "first_fronds"];

const onShelf = (n: number): ToldBox => ({
	n,
	shelf: "north",
	taxon: taxa[n % taxa.length] ?? "",
	sown: n > 30 ? "2026-07-20" : "2026-05-02",
	...(n === 31 || n === 22
		? {}
		: { growth: [stages[n % stages.length] ?? "nothing", "2026-08-11"] }),
	...(n === 8 ? { trouble: ["mould", today] } : {}),
	...(n === 31 ? { packet: "packet-52", sown: "2026-06-29" } : {}),
});

const gone = new Set([4, 6, 13, 15, 20, 25]);
const numbers = Array.from({ length: 46 }, (_, i) => i + 1).filter((n) => !gone.has(n));

const shelf = record("shelf", "north shelf", {
	id: "north",
	fields: { "shelf.described": { stands: "shelf", light: "lamps" } },
	facts: { "shelf.walked": "2026-08-11" },
});
const plant = record("plant", "plant 7", {
	fields: { "name.given": named("Polypodium vulgare") },
	facts: { "sori.seen": "2024-11-02" },
});
const cut = record("gathering", "MV 19", {
	fields: { "record.described": {}, "gathering.described": { number: "MV 19", plant: "plant-7" } },
	facts: { "frond.cut": "2026-02-09" },
});
const packets = [
	record("packet", "packet 52", {
		fields: { "packet.described": { from: "MV-19" } },
		facts: { "box.placed": "2026-02-14" },
	}),
	record("packet", "packet 61", {
		fields: { "name.given": named("Polystichum setiferum", "received") },
		facts: { "packet.received": "2026-08-01" },
	}),
	record("packet", "packet 62", {
		fields: { "name.given": { ...named("Dryopteris affinis", "probable"), qualifier: "cf" } },
		facts: { "packet.received": "2026-08-02" },
	}),
];

const all = [shelf, plant, cut, ...packets, ...numbers.flatMap((n) => boxOf(onShelf(n)))];
const boxes = numbers.map((n) => `box-${n}`);
const cards = [
	task({ subject: "box-31", rule: "first-look", due: "2026-08-16" }),
	task({
		subject: "box-22",
		rule: "still-nothing",
		ask: ["keep_at_back", "sow_again", "give_up", "later"],
	}),
];
const round = task({
	subject: "north",
	rule: "round",
	ask: ["as_before", "later"],
	covers: boxes.filter((id) => id !== "box-31" && id !== "box-22"),
});

const unsent = { unsent: 7, oldestUnsentMs: 5 * 3_600_000 };
const walked = {
	...shelf,
	last: { "shelf.walked": { entry: "walk", at: `${today}T08:12:00+01:00` } },
};

export const scenes: Record<string, Shown> = {
	busy: { today, records: all, tasks: [...cards, round], safety: unsent },
	cards: { today, records: all, tasks: cards, safety: unsent },
	quiet: {
		today,
		records: all,
		tasks: [task({ subject: "north", rule: "round", due: "2026-08-25", covers: boxes })],
	},
	walked: {
		today,
		records: [walked, ...all.filter((one) => one !== shelf)],
		tasks: cards,
		safety: { unsent: 45, oldestUnsentMs: 0 },
	},
	new: { today, records: [] },
	two: {
		today,
		records: [
			shelf,
			...boxOf({
				n: 14,
				shelf: "north",
				taxon: "Asplenium scolopendrium",
				sown: "2026-05-02",
				growth: ["green_film", "2026-07-01"],
				part: "a",
				trouble: ["mould", "2026-08-16"],
			}),
			sowingOf(
				{
					n: 14,
					taxon: "Adiantum capillus-veneris",
					sown: "2026-05-02",
					growth: ["prothalli", "2026-08-11"],
					part: "b",
				},
				"box-14",
			),
		],
		tasks: [task({ subject: "north", rule: "round", due: "2026-08-25", covers: ["box-14"] })],
	},
	troubled: {
		today,
		records: all,
		tasks: cards,
		safety: {
			unsent: 112,
			oldestUnsentMs: 3 * 86_400_000,
			link: "signed-out",
			held: 1,
			updateReady: true,
			storageFull: true,
		},
	},
	long: {
		today: "2027-03-14",
		records: all,
		tasks: [{ ...round, due: "2026-08-25" }],
	},
};

const note = (
	id: string,
	kind: string,
	at: string,
	data: { [field: string]: Json },
): StoredEntry => ({
	id,
	entry: { id, kind, v: 1, about: "sowing-31", at, made: `${at}-${id}`, data },
	state: "stored",
	seq: 1,
	received: 0,
	errors: [],
	vouched: false,
	via: null,
	checking: false,
});

export const notesOfBox31: StoredEntry[] = [
	note("sown", "spores.sown", "2026-06-29", { density: "right" }),
	note("look-1", "growth.seen", "2026-07-13", { growth: "nothing" }),
	note("look-2", "growth.seen", "2026-07-28", { growth: "nothing" }),
	note("film", "growth.seen", "2026-08-02", { growth: "green_film" }),
	note("strike", "entry.struck", "2026-08-03", { entry: "film", reason: "algae, not fern" }),
];

for (const scene of Object.values(scenes)) scene.entries = notesOfBox31;
