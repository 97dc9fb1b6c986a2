/** What the box screen says of a box, as plain values: where it is in its wait, when it is next looked at. */
import { toDay } from "../../kernel/days";
import { dayOf } from "../../parts/dates";
import { growthOfBox, sownAt } from "../../parts/standing";
import type { FoldedRecord, Growth, Shelves, StoredEntry, Task } from "../../records/desk";

export interface Wait {
	day: number;
	usual: readonly [number, number] | null;
	/** Its kind is not in the tables: the band is that of a quick woodlander. */
	guess: boolean;
	growth: Growth | null;
	/** before: earlier than usual · within · late: past it (which is not dead) · green: it has come up */
	stands: "before" | "within" | "past" | "green" | "unknown";
}

const daysPerWeek = 7;

/** null while the day of sowing is not known. */
export function waitOf(records: Shelves, box: FoldedRecord, today: string): Wait | null {
	const sown = sownAt(records, box.id);
	if (!sown) return null;
	const day = toDay(today) - toDay(dayOf(sown));
	const growth = growthOfBox(records, box.id);
	const growing = records.sowingsIn(box.id).map((sowing) => records.growingOf(sowing.id));
	const known = growing.find(({ guess }) => !guess) ?? growing[0];
	const weeks = known?.spans.green;
	const usual = weeks ? ([weeks[0] * daysPerWeek, weeks[1] * daysPerWeek] as const) : null;
	return { day, usual, guess: known?.guess ?? true, growth, stands: standing(day, usual, growth) };
}

function standing(
	day: number,
	usual: readonly [number, number] | null,
	growth: Growth | null,
): Wait["stands"] {
	if (growth && growth !== "nothing") return "green";
	if (!usual) return "unknown";
	if (day < usual[0]) return "before";
	return day <= usual[1] ? "within" : "past";
}

/** The days on which someone looked (no note of it being crossed out), counted from the day of sowing; one mark a day. */
export function looksOf(entries: readonly StoredEntry[], sown: string, today: string): number[] {
	const from = toDay(dayOf(sown));
	const struck = new Set(
		entries.flatMap(({ entry }) => (entry.kind === "entry.struck" ? entry.data.entry : [])),
	);
	const days = entries
		.filter(({ entry, state }) => state !== "held" && !struck.has(entry.id) && isLook(entry.kind))
		.map(({ entry }) => toDay(dayOf(entry.at)) - from)
		.filter((day) => day > 0 && day <= toDay(today) - from);
	return [...new Set(days)].sort((a, b) => a - b);
}

const isLook = (kind: string) => kind === "growth.seen" || kind === "shelf.walked";

export interface Asked {
	/** Due today or before: asked now. */
	now: Task | null;
	/** What comes next where nothing is asked of it now: a day ahead, or the round of its shelf. */
	next: Task | null;
}

/** The box's own question, else the day of its next look (its own or the round of its shelf). */
export function askedOf(tasks: readonly Task[], box: string, today: string): Asked {
	const own = tasks.filter((task) => task.subject === box || task.covers.includes(box));
	const now = own.find((task) => task.subject === box && task.due <= today) ?? null;
	const next = own.find((task) => task.due > today || task.subject !== box) ?? null;
	return { now, next: now ? null : next };
}
