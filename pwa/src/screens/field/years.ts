/** The years of a plant's sori: what was seen, year by year, and what that says of the next visit. Nothing more. */
import { dayOf } from "../../parts/dates";
import type { Ripeness, StoredEntry } from "../../records/desk";
import { isRipeness } from "./ripeness";

export interface Sight {
	day: string;
	/** null: a cut. */
	ripeness: Ripeness | null;
}

export interface Year {
	year: string;
	sights: Sight[];
}

/** Entries that stand: neither held, refused nor crossed out. */
export function standing(
	entries: readonly StoredEntry[],
	struck: readonly string[],
): StoredEntry[] {
	return entries.filter(
		({ id, state }) => (state === "stored" || state === "unsent") && !struck.includes(id),
	);
}

/** Looks at the sori and cuts, by year, the latest year first, days in order. */
export function yearsOf(entries: readonly StoredEntry[]): Year[] {
	const years = new Map<string, Sight[]>();
	const sights = entries.flatMap(({ entry }): Sight[] => {
		const day = dayOf(entry.at);
		if (entry.kind === "frond.cut") return [{ day, ripeness: null }];
		const { ripeness } = entry.data;
		return entry.kind === "sori.seen" && isRipeness(ripeness) ? [{ day, ripeness }] : [];
	});
	for (const sight of sights.sort((a, b) => (a.day < b.day ? -1 : 1))) {
		const year = sight.day.slice(0, 4);
		years.set(year, [...(years.get(year) ?? []), sight]);
	}
	return [...years]
		.sort(([a], [b]) => (a < b ? 1 : -1))
		.map(([year, found]) => ({ year, sights: found }));
}

/** A day on which it was ripe: seen so, or cut. */
const isRipe = ({ ripeness }: Sight) => ripeness === "ripe" || ripeness === null;

export const ripeDays = (years: readonly Year[]): string[] =>
	years.flatMap(({ sights }) => sights.filter(isRipe).map(({ day }) => day));

/** "07-19": a day without its year, so that years can be laid over each other. */
const inYear = (day: string) => day.slice(5);

export type Next =
	| { say: "ripe-now" | "turning" | "young" | "spent"; day: string }
	| { say: "one"; day: string; year: string }
	| { say: "more"; from: string; to: string; n: number }
	| { say: "none" };

/** What the next visit is known to be, from what was seen alone: this year's last look first, then past ripe days. */
export function nextVisit(years: readonly Year[], today: string): Next {
	const thisYear = years.find(({ year }) => year === today.slice(0, 4));
	const last = thisYear?.sights.filter(({ ripeness }) => ripeness !== null).at(-1);
	if (last?.ripeness === "ripe") return { say: "ripe-now", day: last.day };
	if (last?.ripeness === "turning") return { say: "turning", day: last.day };
	if (last?.ripeness === "spent") return { say: "spent", day: last.day };
	const past = ripeDays(years).filter((day) => day.slice(0, 4) < today.slice(0, 4));
	const [first] = past;
	const distinct = new Set(past.map((day) => day.slice(0, 4))).size;
	if (first && distinct === 1) return { say: "one", day: first, year: first.slice(0, 4) };
	if (first) {
		const days = past.map(inYear).sort();
		const at = (md: string | undefined) => `${today.slice(0, 4)}-${md ?? inYear(first)}`;
		return { say: "more", from: at(days[0]), to: at(days.at(-1)), n: distinct };
	}
	if (last?.ripeness === "young") return { say: "young", day: last.day };
	return { say: "none" };
}
