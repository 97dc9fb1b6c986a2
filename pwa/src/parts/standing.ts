/** How a box stands, read off the folded records: its number, its sowings, what grows, what troubles it. */
import type { FoldedRecord, Growth, Naming, Shelves, Trouble } from "../records/desk";

/** "31" of "box 31": what is written on the thing, without the word for the thing. */
export function numberOf(label: string): string {
	return label.replace(/^(box|pot|tub|jar|dish|tray|packet|pots|plant|mix)\s+(?=\S)/i, "");
}

/** From the furthest back to the furthest on; a winter rest is its own. */
export const growths: readonly Growth[] = [
	"nothing",
	"green_film",
	"prothalli",
	"first_fronds",
	"winter_rest",
];

export const troubles: readonly Trouble[] = [
	"mould",
	"slime",
	"moss",
	"liverwort",
	"gnats",
	"too_wet",
	"dry",
	"stray",
	"flopped",
];

const isGrowth = (value: unknown): value is Growth => growths.includes(value as Growth);

/** What was last seen of a sowing; nobody has looked: null. */
export function growthOf(sowing: FoldedRecord): Growth | null {
	const value = sowing.states.growth?.value;
	return isGrowth(value) ? value : null;
}

/** The furthest growth among the sowings of a box. */
export function growthOfBox(records: Shelves, box: string): Growth | null {
	return records
		.sowingsIn(box)
		.map(growthOf)
		.reduce(
			(most, one) => (one && (!most || growths.indexOf(one) > growths.indexOf(most)) ? one : most),
			null,
		);
}

export interface OpenTrouble {
	trouble: Trouble;
	/** The record that has it: a sowing, the box or the shelf. */
	about: string;
	since: string;
}

const openTroubles = (record: FoldedRecord): OpenTrouble[] =>
	troubles.flatMap((trouble) => {
		const state = record.states[`trouble:${trouble}`];
		return state?.value === true ? [{ trouble, about: record.id, since: state.since }] : [];
	});

/** Troubles that have begun and not ended, of a box and of the sowings in it. */
export function troublesOfBox(records: Shelves, box: FoldedRecord): OpenTrouble[] {
	return [box, ...records.sowingsIn(box.id)].flatMap(openTroubles);
}

/** Troubles that spread: such a box is touched last. */
export const spreads = ({ trouble }: OpenTrouble): boolean =>
	trouble === "mould" || trouble === "gnats" || trouble === "liverwort";

/** The moment in which the oldest sowing of a box was sown, where it is known. */
export function sownAt(records: Shelves, box: string): string | null {
	const days = records
		.sowingsIn(box)
		.flatMap((sowing) => sowing.first["spores.sown"]?.at ?? [])
		.sort();
	return days[0] ?? null;
}

export interface Fern {
	sowing: FoldedRecord;
	part: string | null;
	naming: Naming | null;
	control: boolean;
}

/** The ferns in a box, by part; an unsown control is one with nothing in it. */
export function fernsIn(records: Shelves, box: string): Fern[] {
	return records.sowingsIn(box).map((sowing) => {
		const fields = sowing.fields["sowing.described"] ?? {};
		return {
			sowing,
			part: typeof fields.part === "string" ? fields.part : null,
			naming: records.nameOf(sowing.id),
			control: fields.control === true,
		};
	});
}

/** The shelf on which a box stands. */
export function shelfOf(records: Shelves, box: FoldedRecord): FoldedRecord | undefined {
	const placed = box.states.shelf?.value;
	return typeof placed === "string" ? records.get(placed) : undefined;
}

/** Boxes that stand on no shelf. */
export function looseBoxes(records: Shelves): FoldedRecord[] {
	return records.ofType("box").filter((box) => !shelfOf(records, box));
}
