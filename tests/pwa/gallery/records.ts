/** Folded records as the kernel would give them, told in a line each: for tests of screens and for the gallery. */

import type { FoldedRecord, Json, Naming, Shelves } from "../../../pwa/src/records/desk";
import { RecordIndex } from "../../../pwa/src/records/shelves";

const empty = (id: string, type: string): FoldedRecord => ({
	id,
	type,
	fields: {},
	heads: {},
	questions: [],
	facts: [],
	struck: [],
	held: [],
	unknown: [],
	states: {},
	first: {},
	last: {},
	sums: {},
});

type Fields = { [field: string]: Json };

/** A record with a label, its own description, and facts on days: state name → [value, day]. */
export function record(
	type: string,
	label: string,
	told: {
		id?: string;
		fields?: { [kind: string]: Fields };
		states?: { [name: string]: [Json, string] };
		facts?: { [kind: string]: string };
	} = {},
): FoldedRecord {
	const made = empty(told.id ?? label.replaceAll(" ", "-"), type);
	made.fields = { "record.described": { name: label }, [`${type}.described`]: {}, ...told.fields };
	for (const [name, [value, at]] of Object.entries(told.states ?? {}))
		made.states[name] = { value, at, since: at, entry: `${made.id}-${name}` };
	for (const [kind, at] of Object.entries(told.facts ?? {})) {
		made.first[kind] = { entry: `${made.id}-${kind}`, at };
		made.last[kind] = { entry: `${made.id}-${kind}`, at };
	}
	return made;
}

export const named = (taxon: string, sure: Naming["sure"] = "certain"): Fields => ({
	taxon,
	sure,
});

export interface ToldBox {
	n: number | string;
	shelf?: string;
	taxon?: string;
	sown?: string;
	growth?: [string, string];
	trouble?: [string, string];
	packet?: string;
	control?: boolean;
	part?: string;
}

/** A box and the sowing in it. */
export function boxOf(told: ToldBox): FoldedRecord[] {
	const label = typeof told.n === "number" ? `box ${told.n}` : told.n;
	const id = `box-${told.n}`;
	const box = record("box", label, {
		id,
		states: {
			...(told.shelf ? { shelf: [told.shelf, told.sown ?? "2026-05-01"] } : {}),
			...(told.trouble ? { [`trouble:${told.trouble[0]}`]: [true, told.trouble[1]] } : {}),
		},
	});
	return [box, sowingOf(told, id)];
}

export function sowingOf(told: ToldBox, box: string): FoldedRecord {
	const sowing = record("sowing", "", {
		id: `sowing-${told.n}${told.part ?? ""}`,
		fields: {
			"record.described": {},
			"sowing.described": {
				box,
				...(told.part ? { part: told.part } : {}),
				...(told.control ? { control: true } : {}),
				packets: told.packet ? [told.packet] : [],
			},
			...(told.taxon ? { "name.given": named(told.taxon) } : {}),
		},
		states: told.growth ? { growth: told.growth } : {},
		facts: told.sown ? { "spores.sown": told.sown } : {},
	});
	return sowing;
}

const side = { texts: [], placeNo: null, photos: [], onlyHere: false };

/** The shelves over these records, as the app's own index makes them. */
export function shelvesOf(records: FoldedRecord[]): Shelves {
	const index = new RecordIndex();
	for (const one of records) index.put({ id: one.id, record: one, side });
	return index.view(true);
}
