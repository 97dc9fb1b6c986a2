/** The bench as groups: clean boxes shelf by shelf, those kept apart last, then packets. */
import {
	growthOfBox,
	looseBoxes,
	numberOf,
	type OpenTrouble,
	spreads,
	troublesOfBox,
} from "../../parts/standing";
import type { FoldedRecord, Growth, Shelves } from "../../records/desk";

export interface BenchBox {
	record: FoldedRecord;
	number: string;
	growth: Growth | null;
	troubles: OpenTrouble[];
}

export interface BenchGroup {
	/** The shelf; null for what stands on none. */
	shelf: FoldedRecord | null;
	boxes: BenchBox[];
}

export interface BenchList {
	groups: BenchGroup[];
	/** With a trouble that spreads: touched last. */
	apart: BenchBox[];
	total: number;
	counts: ReadonlyMap<Growth, number>;
}

const described = (records: Shelves, record: FoldedRecord): BenchBox => ({
	record,
	number: numberOf(records.labelOf(record.id)),
	growth: growthOfBox(records, record.id),
	troubles: troublesOfBox(records, record),
});

/** A box that nobody has looked at counts as nothing yet. */
const stage = (box: BenchBox): Growth => box.growth ?? "nothing";

/** All boxes, or those of one stage. */
export function benchList(records: Shelves, only: Growth | null): BenchList {
	const groups: BenchGroup[] = records.ofType("shelf").map((shelf) => ({
		shelf,
		boxes: records.boxesOn(shelf.id).map((box) => described(records, box)),
	}));
	groups.push({
		shelf: null,
		boxes: looseBoxes(records).map((box) => described(records, box)),
	});
	const all = groups.flatMap((group) => group.boxes);
	const counts = new Map<Growth, number>();
	for (const box of all) counts.set(stage(box), (counts.get(stage(box)) ?? 0) + 1);
	const wanted = (box: BenchBox) => only === null || stage(box) === only;
	const apart = (box: BenchBox) => box.troubles.some(spreads);
	return {
		groups: groups.map(({ shelf, boxes }) => ({
			shelf,
			boxes: boxes.filter((box) => wanted(box) && !apart(box)),
		})),
		apart: all.filter((box) => wanted(box) && apart(box)),
		total: all.length,
		counts,
	};
}
