// What is due: the kernel's due() over all boxes and shelves, and who keeps what.
// Twin of the server's reminders/tasks.py: the same inputs, the same tasks.

import { due } from "../kernel/due";
import type { CarePlan, Outlook } from "../kernel/plan";
import type { FoldedRecord, Id, Json, OutlookRow, Task } from "../sync/ports";
import type { Shelves } from "./desk";
import type { Rules } from "./rules";

export interface ChoresNeeds {
	rules: Rules;
	/** Data of the plan.set entries that boxes name, by entry id. */
	plans: ReadonlyMap<Id, CarePlan>;
	outlooks: readonly OutlookRow[];
}

interface Span {
	from?: Json;
	to?: Json;
}

/** Open tasks as if it were that day. `person`: only what they keep; null: everybody's. */
export function tasksOn(
	day: string,
	person: Id | null,
	shelves: Shelves,
	needs: ChoresNeeds,
): Task[] {
	const away = person ? awayOf(shelves.get(person)) : [];
	const subjects = [...shelves.ofType("box"), ...shelves.ofType("shelf")];
	const kept = person ? subjects.filter((one) => keeps(person, one, day, shelves)) : subjects;
	return kept.flatMap((one) => tasksOf(one, day, away, shelves, needs)).sort(byDue);
}

function tasksOf(
	subject: FoldedRecord,
	day: string,
	away: { from: string; to: string }[],
	shelves: Shelves,
	{ rules, plans, outlooks }: ChoresNeeds,
): Task[] {
	const inside = insideOf(subject, shelves);
	const sowings = inside.filter(({ type }) => type === "sowing");
	const growing = Object.fromEntries(sowings.map(({ id }) => [id, shelves.growingOf(id)]));
	const about = new Set([subject.id, ...inside.map(({ id }) => id)]);
	const outlook = outlooks.filter((row) => about.has(row.about)) as unknown as Outlook[];
	const plan = planOf(subject, plans) ?? rules.plan;
	return due(plan, subject, inside, growing, outlook, away, day);
}

/** What names a double is told to the kernel as being in its elder. */
function insideOf(subject: FoldedRecord, shelves: Shelves): FoldedRecord[] {
	const { id } = subject;
	if (subject.type === "box") return shelves.sowingsIn(id).map((one) => inBox(one, id));
	const boxes = shelves.boxesOn(id).map((one) => onShelf(one, id));
	return [...boxes, ...boxes.flatMap((box) => insideOf(box, shelves))];
}

function inBox(sowing: FoldedRecord, box: Id): FoldedRecord {
	const described = sowing.fields["sowing.described"];
	if (described?.box === box) return sowing;
	return { ...sowing, fields: { ...sowing.fields, "sowing.described": { ...described, box } } };
}

function onShelf(box: FoldedRecord, shelf: Id): FoldedRecord {
	const stands = box.states.shelf;
	if (!stands || stands.value === shelf) return box;
	return { ...box, states: { ...box.states, shelf: { ...stands, value: shelf } } };
}

/** The plan.set entry that a box names, where it counts; else the shipped plan. */
export function planOf(subject: FoldedRecord, plans: ReadonlyMap<Id, CarePlan>): CarePlan | null {
	const entry = subject.fields["box.described"]?.plan;
	return (typeof entry === "string" && plans.get(entry)) || null;
}

/** Days away move tasks, so that they are reckoned for this person alone. */
export function isEverAway(person: Id, shelves: Shelves): boolean {
	return awayOf(shelves.get(person)).length > 0;
}

/** Out of everybody's tasks those of one person, who is never away. */
export function tasksKeptBy(person: Id, tasks: Task[], shelves: Shelves, day: string): Task[] {
	return tasks.filter(({ subject }) => {
		const record = shelves.get(subject);
		return record !== undefined && keeps(person, record, day, shelves);
	});
}

/** Whoever keeps the box that day; if nobody, who keeps its shelf; if nobody, everybody. */
export function keeps(person: Id, subject: FoldedRecord, day: string, shelves: Shelves): boolean {
	const own = keepersOf(subject, day);
	if (own.length) return own.includes(person);
	const shelf = subject.type === "box" ? subject.states.shelf?.value : undefined;
	const above = typeof shelf === "string" ? shelves.get(shelf) : undefined;
	return above ? keeps(person, above, day, shelves) : true;
}

function keepersOf(record: FoldedRecord, day: string): Id[] {
	const keepers = record.fields[`${record.type}.described`]?.keeper;
	if (!Array.isArray(keepers)) return [];
	return keepers.flatMap((keeper) => {
		const { person, ...span } = (keeper ?? {}) as Span & { person?: Json };
		return typeof person === "string" && holds(span, day) ? [person] : [];
	});
}

/** Both ends belong to it; an open end goes on. */
function holds({ from, to }: Span, day: string): boolean {
	return (typeof from !== "string" || from <= day) && (typeof to !== "string" || day <= to);
}

function awayOf(person: FoldedRecord | undefined): { from: string; to: string }[] {
	const away = person?.fields["person.described"]?.away;
	return Array.isArray(away) ? (away as unknown as { from: string; to: string }[]) : [];
}

function byDue(one: Task, other: Task): number {
	return compare(one.due, other.due) || compare(one.id, other.id);
}

function compare(a: string, b: string): number {
	return a < b ? -1 : a > b ? 1 : 0;
}
