/** Where a record came from, and what came of it. */
import { dayOf, dayShort } from "../../parts/dates";
import type { LineStop } from "../../parts/line-picture";
import type { FoldedRecord, Json, Shelves } from "../../records/desk";
import { pictureFor } from "./record-row";

const ids = (value: Json | undefined): string[] =>
	typeof value === "string"
		? [value]
		: Array.isArray(value)
			? value.flatMap((one) => ids(one))
			: [];

/** What a record is described as coming from; a box comes from what was sown in it. */
function parentIds(records: Shelves, record: FoldedRecord): string[] {
	const f = record.fields;
	if (record.type === "box")
		return records
			.sowingsIn(record.id)
			.flatMap((sowing) => ids(sowing.fields["sowing.described"]?.packets));
	return [
		...ids(f["gathering.described"]?.plant),
		...ids(f["packet.described"]?.from),
		...ids(f["sowing.described"]?.packets),
		...ids(f["clump.described"]?.from),
		...ids(f["pots.described"]?.from),
	];
}

const unique = (found: (FoldedRecord | undefined)[]): FoldedRecord[] => [
	...new Map(found.flatMap((one) => (one ? [[one.id, one] as const] : []))).values(),
];

export const parentsOf = (records: Shelves, record: FoldedRecord): FoldedRecord[] =>
	unique(parentIds(records, record).map((id) => records.get(id)));

/** What came of it; a sowing is shown as the box it is in. */
export function childrenOf(records: Shelves, record: FoldedRecord): FoldedRecord[] {
	const own = [record, ...(record.type === "box" ? records.sowingsIn(record.id) : [])];
	const came = own.flatMap(({ id }) => records.cameOf(id));
	const shown = came.map((child) => {
		const box = child.type === "sowing" ? child.fields["sowing.described"]?.box : null;
		return typeof box === "string" ? (records.get(box) ?? child) : child;
	});
	return unique(shown).filter(({ id }) => id !== record.id);
}

/** The day on which a record came to be, as far as its notes tell. */
export function began(record: FoldedRecord): string | null {
	const facts = Object.entries(record.first)
		.filter(
			([kind]) => !kind.endsWith(".described") && kind !== "name.given" && kind !== "place.fixed",
		)
		.map(([, { at }]) => at);
	const any = Object.values(record.first).map(({ at }) => at);
	return (facts.length ? facts : any).sort()[0] ?? null;
}

/** A phone's width holds four. */
const most = 4;

/** From the oldest known to this record, then the first that came of it: the line as a strip. */
export function stopsOf(records: Shelves, record: FoldedRecord, today: string): LineStop[] {
	const up: FoldedRecord[] = [record];
	let [parent] = parentsOf(records, record);
	while (parent && !up.includes(parent)) {
		up.push(parent);
		[parent] = parentsOf(records, parent);
	}
	const down: FoldedRecord[] = [];
	let [child] = childrenOf(records, record);
	while (child && up.length + down.length < most && ![...up, ...down].includes(child)) {
		down.push(child);
		[child] = childrenOf(records, child);
	}
	let year = today.slice(0, 4);
	return [...up.slice(0, most - down.length).reverse(), ...down].map((one) => {
		const day = dayOf(began(one) ?? "");
		const other = day !== "" && day.slice(0, 4) !== year;
		if (other) year = day.slice(0, 4);
		return {
			id: one.id,
			picture: pictureFor(one),
			label: records.labelOf(one.id),
			when: day ? dayShort(day, day) : "",
			year: other ? year : undefined,
			here: one.id === record.id,
		};
	});
}
