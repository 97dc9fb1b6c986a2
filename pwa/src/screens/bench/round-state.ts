/** What the round of a shelf shows of each box: as before, different today, or with a card of its own. */
import { pictureOf } from "../../parts/answering";
import { dayOf } from "../../parts/dates";
import type { PictogramName } from "../../parts/pictogram";
import { growthOf, growths, numberOf, troublesOfBox } from "../../parts/standing";
import type { FoldedRecord, Growth, Shelves, Task } from "../../records/desk";

export interface RoundBox {
	id: string;
	number: string;
	growth: Growth;
	/** What was seen for the first time today. */
	seen: PictogramName | undefined;
	/** It has a question of its own. */
	own: boolean;
}

/** The newest thing that is different since today: a trouble before growth. */
function newToday(records: Shelves, box: FoldedRecord, today: string): PictogramName | undefined {
	const trouble = troublesOfBox(records, box).find(({ since }) => dayOf(since) === today);
	if (trouble) return pictureOf(trouble.trouble);
	const grown = records
		.sowingsIn(box.id)
		.find((sowing) => dayOf(sowing.states.growth?.since ?? "") === today);
	const growth = grown && growthOf(grown);
	return growth && growth !== "nothing" ? pictureOf(growth) : undefined;
}

export function roundBoxes(
	records: Shelves,
	shelf: string,
	tasks: readonly Task[],
	today: string,
): RoundBox[] {
	const own = new Set(
		tasks.filter((task) => task.rule !== "round" && task.due <= today).map((task) => task.subject),
	);
	return records.boxesOn(shelf).map((box) => ({
		id: box.id,
		number: numberOf(records.labelOf(box.id)),
		growth: furthest(records, box.id),
		seen: newToday(records, box, today),
		own: own.has(box.id),
	}));
}

function furthest(records: Shelves, box: string): Growth {
	const seen = records
		.sowingsIn(box)
		.map((sowing) => growths.indexOf(growthOf(sowing) ?? "nothing"));
	return growths[Math.max(0, ...seen)] ?? "nothing";
}

/** The stage that comes after this one: the likeliest thing to be new. */
export function nextGrowth(growth: Growth): Growth {
	if (growth === "nothing") return "green_film";
	return growth === "green_film" ? "prothalli" : "first_fronds";
}
