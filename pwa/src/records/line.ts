// The line from spore to plant: the name nearest up the line, and what a label says.
// Twin: backend sporeline/logbook/line.py; vectors: tests/vectors/line.

import type { FoldedRecord, Id, Json } from "../sync/ports";
import type { Naming } from "./desk";

export interface Line {
	get(id: Id): FoldedRecord | undefined;
	/** Sowings in a box. */
	inside(box: Id): FoldedRecord[];
}

const SURENESS: Naming["sure"][] = ["unknown", "received", "probable", "certain"];

/**
 * The nearest name up the line: the record's own, else that of what it came from; null where there
 * is none, or where several origins do not agree. Offspring from spores of a cultivar or a hybrid
 * are "ex" it.
 */
export function nameOf(record: FoldedRecord, line: Line): Naming | null {
	return nearest(record, line, new Set());
}

/** What is written on the label: the record's name, else the collector's number. */
export function labelName(record: FoldedRecord): string | null {
	return (
		textOf(record.fields["record.described"]?.name) ??
		textOf(record.fields["gathering.described"]?.number)
	);
}

/** The record that stands for this one (`same_as`), however often it was merged. */
export function standsFor(record: FoldedRecord, get: Line["get"]): FoldedRecord {
	const met = new Set([record.id]);
	for (let here = record; ; ) {
		const other = idOf(here.fields["record.described"]?.same_as);
		const next = other && !met.has(other) ? get(other) : undefined;
		if (!next) return here;
		met.add(next.id);
		here = next;
	}
}

function nearest(record: FoldedRecord, line: Line, met: Set<Id>): Naming | null {
	if (met.has(record.id)) return null;
	const within = new Set(met).add(record.id);
	const own = ownName(record);
	if (own) return own;
	const twin = one(record.fields["record.described"]?.same_as, line);
	const merged = twin && nearest(twin, line, within);
	if (merged) return merged;
	const { origins, bySpores } = cameFrom(record, line);
	const name = agreed(origins.map((origin) => nearest(origin, line, within)));
	return name && bySpores ? fromSpores(name) : name;
}

function ownName(record: FoldedRecord): Naming | null {
	const given = record.fields["name.given"];
	if (!given) return null;
	return {
		taxon: textOf(given.taxon),
		sure: SURENESS.find((sure) => sure === given.sure) ?? "unknown",
		qualifier: (["cf", "aff", "ex"] as const).find((word) => word === given.qualifier) ?? null,
		other: textOf(given.other),
		from: record.id,
	};
}

/** What a record came from, and whether a generation from spores lies between. */
function cameFrom(
	record: FoldedRecord,
	line: Line,
): { origins: FoldedRecord[]; bySpores: boolean } {
	const f = record.fields;
	const some = (...ids: (Json | undefined)[]) => ids.flatMap((id) => one(id, line) ?? []);
	switch (record.type) {
		case "box": {
			const sown = line
				.inside(record.id)
				.filter((s) => s.fields["sowing.described"]?.control !== true);
			return { origins: sown, bySpores: false };
		}
		case "sowing": {
			const packets = f["sowing.described"]?.packets;
			return { origins: some(...(Array.isArray(packets) ? packets : [])), bySpores: true };
		}
		case "packet":
			return { origins: some(f["packet.described"]?.from), bySpores: false };
		case "gathering":
			return { origins: some(f["gathering.described"]?.plant), bySpores: false };
		case "clump":
			return { origins: some(f["clump.described"]?.from), bySpores: false };
		case "pots": {
			const origins = some(f["pots.described"]?.from);
			const straight = origins.every(
				({ type }) => type === "plant" || type === "gathering" || type === "packet",
			);
			return { origins, bySpores: f["pots.described"]?.way === "spores" && straight };
		}
		default:
			return { origins: [], bySpores: false };
	}
}

/** Several origins have one name only if all say the same; then it is as sure as the least sure. */
function agreed(names: (Naming | null)[]): Naming | null {
	const [first] = names;
	if (!first) return null;
	const same = (name: Naming | null) =>
		name?.taxon === first.taxon && name.qualifier === first.qualifier && name.other === first.other;
	if (!names.every(same)) return null;
	const least = Math.min(...names.map((name) => SURENESS.indexOf(name?.sure ?? "unknown")));
	return { ...first, sure: SURENESS[least] ?? "unknown" };
}

function fromSpores(name: Naming): Naming {
	const bred = name.taxon !== null && (name.taxon.includes("'") || name.taxon.includes("×"));
	return bred && name.qualifier === null ? { ...name, qualifier: "ex" } : name;
}

function one(id: Json | undefined, line: Line): FoldedRecord | null {
	const text = idOf(id);
	return (text && line.get(text)) || null;
}

function idOf(value: Json | undefined): Id | null {
	return typeof value === "string" ? value : null;
}

function textOf(value: Json | undefined): string | null {
	return typeof value === "string" && value !== "" ? value : null;
}
