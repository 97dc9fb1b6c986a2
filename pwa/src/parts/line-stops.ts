/** The records up the line of a box, from the oldest to the box itself. */
import type { FoldedRecord, Shelves } from "../records/desk";
import { dayOf, dayShort } from "./dates";
import type { LineStop } from "./line-picture";
import type { PictogramName } from "./pictogram";
import { sownAt } from "./standing";

const pictures: Record<string, PictogramName> = {
	plant: "object-plant",
	gathering: "object-collection",
	packet: "object-packet",
	box: "object-box",
	clump: "object-clump",
	pots: "object-pots",
};

/** The first thing that happened to a record: the day on which it came to be, as far as notes tell. */
function began(record: FoldedRecord): string | null {
	const facts = Object.entries(record.first)
		.filter(([kind]) => !kind.endsWith(".described") && kind !== "name.given")
		.map(([, first]) => first.at);
	const any = Object.values(record.first).map((first) => first.at);
	return (facts.length ? facts : any).sort()[0] ?? null;
}

/** The record that this one came from, by its description. */
function parentOf(record: FoldedRecord, records: Shelves): FoldedRecord | undefined {
	const described = record.fields[`${record.type}.described`] ?? {};
	const id = described.from ?? described.plant;
	return typeof id === "string" ? records.get(id) : undefined;
}

/** Four stops are as many as a phone's width holds; the oldest are left out. */
const most = 4;

export function lineOf(
	records: Shelves,
	box: FoldedRecord,
	packet: FoldedRecord | undefined,
	today: string,
): LineStop[] {
	const up: FoldedRecord[] = [box];
	let record = packet;
	while (record && !up.includes(record)) {
		up.push(record);
		record = parentOf(record, records);
	}
	const beganAt = (one: FoldedRecord) =>
		one.id === box.id ? (sownAt(records, box.id) ?? began(one)) : began(one);
	let year = today.slice(0, 4);
	return up
		.slice(0, most)
		.reverse()
		.map((one) => {
			const day = dayOf(beganAt(one) ?? "");
			const another = day !== "" && day.slice(0, 4) !== year;
			if (day) year = day.slice(0, 4);
			const received = one.first["packet.received"] !== undefined;
			return {
				id: one.id,
				picture: received ? "object-received" : (pictures[one.type ?? ""] ?? "object-label"),
				label: records.labelOf(one.id),
				when: day ? dayShort(day, day) : "",
				year: another ? year : "",
				here: one.id === box.id,
			};
		});
}
