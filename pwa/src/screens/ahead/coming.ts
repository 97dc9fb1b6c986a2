/** What is coming: tasks whose day lies ahead, and plants that were ripe later in the year in past years. */
import { useEffect, useState } from "preact/hooks";
import { useDesk } from "../../parts/desk";
import type { Desk, FoldedRecord, Task } from "../../records/desk";
import { type Next, nextVisit, standing, yearsOf } from "../field/years";

/** Tasks of days to come, the next first. Rounds are told apart from questions about one box. */
export function coming(tasks: readonly Task[], today: string): { asks: Task[]; rounds: Task[] } {
	const ahead = tasks
		.filter(({ due }) => due > today)
		.sort((a, b) => (a.due < b.due ? -1 : a.due > b.due ? 1 : a.id < b.id ? -1 : 1));
	return {
		asks: ahead.filter(({ rule }) => rule !== "round"),
		rounds: ahead.filter(({ rule }) => rule === "round"),
	};
}

export const dueNow = (tasks: readonly Task[], today: string): Task[] =>
	tasks.filter(({ due }) => due <= today);

export interface RipeAgain {
	plant: FoldedRecord;
	next: Extract<Next, { say: "one" | "more" }>;
	/** The first day of the year, in this year, on which it was ripe. */
	day: string;
}

/** Plants whose ripe days of past years lie ahead in this one, the next first. */
export async function ripeAgain(desk: Desk): Promise<RipeAgain[]> {
	const today = desk.today.peek();
	const plants = desk.records.peek().ofType("plant");
	const found = await Promise.all(
		plants.map(async (plant): Promise<RipeAgain[]> => {
			const notes = standing(await desk.entriesOf(plant.id), plant.struck);
			const next = nextVisit(yearsOf(notes), today);
			if (next.say !== "one" && next.say !== "more") return [];
			const last = next.say === "one" ? inYear(next.day, today) : next.to;
			const day = next.say === "one" ? last : next.from;
			return last >= today ? [{ plant, next, day }] : [];
		}),
	);
	return found.flat().sort((a, b) => (a.day < b.day ? -1 : 1));
}

const inYear = (day: string, today: string) => `${today.slice(0, 4)}${day.slice(4)}`;

export function useRipeAgain(): RipeAgain[] {
	const desk = useDesk();
	const [found, read] = useState<RipeAgain[]>([]);
	const records = desk.records.value;
	useEffect(() => {
		let wanted = true;
		if (records)
			ripeAgain(desk).then((all) => {
				if (wanted) read(all);
			});
		return () => {
			wanted = false;
		};
	}, [desk, records]);
	return found;
}
