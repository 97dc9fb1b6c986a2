/** What today holds, sorted out of the tasks: boxes with a card of their own, rounds, and what may be left alone. */
import type { FoldedRecord, Shelves, Task } from "../../records/desk";

export interface Day {
	/** Tasks of single boxes, in the order in which the boxes stand. */
	cards: Task[];
	/** Rounds of shelves. */
	rounds: Task[];
	/** Boxes that want no answer of their own. */
	leave: number;
	boxes: number;
	/** The first day on which something is due, where nothing is today. */
	next: string | null;
}

/** Shelf by shelf, from left to right; what stands on none comes last. The order of days holds within a box. */
function asTheyStand(cards: Task[], records: Shelves): Task[] {
	const stand = records.ofType("shelf").flatMap((shelf) => records.boxesOn(shelf.id));
	const place = new Map(stand.map((box, i) => [box.id, i]));
	const at = (task: Task) => place.get(task.subject) ?? stand.length;
	return [...cards].sort((a, b) => at(a) - at(b));
}

/** Tasks that lie ahead are no business of today. */
export function dayOfTasks(tasks: readonly Task[], records: Shelves, today: string): Day {
	const due = tasks.filter((task) => task.due <= today);
	const cards = asTheyStand(
		due.filter((task) => task.rule !== "round"),
		records,
	);
	const boxes = records.ofType("box").length;
	const own = new Set(cards.map((task) => task.subject));
	const ahead = tasks.filter((task) => task.due > today).map((task) => task.due);
	return {
		cards,
		rounds: due.filter((task) => task.rule === "round"),
		leave: boxes - own.size,
		boxes,
		next: ahead.sort()[0] ?? null,
	};
}

/** When a shelf was last walked. */
export const lastWalked = (shelf: FoldedRecord | undefined): string | null =>
	shelf?.last["shelf.walked"]?.at ?? null;
