// A care plan as data: what its rules are made of. The shapes are told by the JSON Schema of care
// plans in contract/plans/schema; here is what the reckoning of a single rule needs.

import { durationDays, isDay, toDay } from "./days";
import { compareText, type Data, type Dated, type FoldedRecord, type Json } from "./record";

export type Source =
	| { last: string; of?: "each" | "subject" | "inside" | "all" }
	| { since: string }
	| { answered: string; codes?: string[]; take?: "first" };

export type Condition =
	| { state: string; in: Json[] }
	| { answered: string; codes: string[]; is: boolean }
	| { apogamous: boolean };

export type Wait =
	| string
	| string[]
	| { span: string; else: string }
	| { usual: string; after: { [code: string]: string } }
	| { usual: string; green?: string; apogamous?: string };

/** An entry that an answer makes; see answer.ts. */
export interface Template {
	kind: string;
	about: "subject" | "each";
	also?: "subject" | "covers";
	data: Data;
	by?: { state: string; data: { [value: string]: Data } };
}

export interface Rule {
	rule: string;
	subject: "box" | "shelf";
	each?: "sowing" | "box";
	while?: Condition[];
	anchor: Source[];
	wait?: Wait;
	every?: Wait;
	done_by?: Source[];
	until?: string;
	again?: { anchor: Source[]; wait: string };
	ends: { by: string } | { by: "age"; after: string; from: Source };
	past?: string[];
	leaves_out?: Condition[];
	looks?: Source[];
	placed?: Source[];
	ask: string[];
	answers: { [code: string]: Template[] };
	question: string;
	why: string;
	caution?: string;
}

export interface CarePlan {
	rules: Rule[];
}

export interface Growing {
	green: boolean;
	apogamous: boolean;
	spans: { [stage: string]: readonly [number, number] | null };
}

export interface Outlook {
	about: string;
	n: number;
	to: string;
}

/**
 * One rule before one record. `subject`: what the task is about, a box or shelf. `each`: what is
 * judged, the subject itself or a record in it. `inside`: the records in `each`. `growing`: how the
 * fern of `each` usually grows. `alone`: nothing else in the subject is judged.
 */
export interface Case {
	rule: Rule;
	subject: FoldedRecord;
	each: FoldedRecord;
	inside: FoldedRecord[];
	growing: Growing | undefined;
	outlook: Outlook | undefined;
	alone: boolean;
}

/** `anchor`: the date in the id of the task that was answered. */
export interface Answered {
	anchor: string;
	code: string;
	day: number;
	until: string | null;
}

/**
 * What was answered for `each` to a rule about the subject, “later” too. An answer is filed about
 * the subject and under what it is given for; where that is alone it need not be.
 */
export function answers({ subject, each, alone }: Case, rule: string): Answered[] {
	const prefix = `task:${subject.id}/${rule}/`;
	const found = new Map<string, Answered>();
	for (const { states } of alone ? [each, subject] : [each]) {
		for (const [name, { value, at }] of Object.entries(states)) {
			const anchor = name.slice(prefix.length);
			if (!name.startsWith(prefix) || !isDay(anchor)) continue;
			const said = value as { answer: string; until?: string };
			const day = toDay(at.slice(0, 10));
			found.set(anchor, { anchor, code: said.answer, day, until: said.until ?? null });
		}
	}
	return [...found.values()].sort((one, other) => compareText(one.anchor, other.anchor));
}

/** The answers that are one of `codes`, or anything but “later”. */
export function givenAnswers(one: Case, rule: string, codes?: readonly string[]): Answered[] {
	return answers(one, rule).filter(({ code }) => (codes ? codes.includes(code) : code !== "later"));
}

/** The latest day on which one of the sources happened. */
export function latest(one: Case, sources: readonly Source[] = []): number | null {
	const days = sources.flatMap((source) => daysOf(one, source));
	return days.length > 0 ? Math.max(...days) : null;
}

function daysOf(one: Case, source: Source): number[] {
	if ("answered" in source) {
		const days = givenAnswers(one, source.answered, source.codes).map(({ day }) => day);
		return days.length > 0 && source.take === "first" ? [Math.min(...days)] : days;
	}
	if ("since" in source) {
		const state = one.each.states[source.since];
		return state ? [toDay(state.since.slice(0, 10))] : [];
	}
	return recordsOf(one, source.of ?? "each").flatMap((record) => {
		const dated = record.last[source.last];
		return dated ? [dayOf(dated)] : [];
	});
}

function recordsOf(one: Case, of: "each" | "subject" | "inside" | "all"): FoldedRecord[] {
	if (of === "inside") return one.inside;
	if (of === "all") return [one.each, ...one.inside];
	return [one[of]];
}

function dayOf(dated: Dated): number {
	return toDay(dated.to ?? dated.at.slice(0, 10));
}

export function holds(one: Case, condition: Condition): boolean {
	if ("state" in condition) {
		return condition.in.includes(one.each.states[condition.state]?.value ?? null);
	}
	if ("answered" in condition) {
		const found = givenAnswers(one, condition.answered, condition.codes);
		return found.length > 0 === condition.is;
	}
	return grows(one, "apogamous") === condition.apogamous;
}

/** How long to wait from the anchor, in days; null: not asked of such a fern, or no more. */
export function waitDays(one: Case, wait: Wait, anchor: number): number | null {
	if (typeof wait === "string") return durationDays(wait);
	if (Array.isArray(wait)) return turn(one, wait);
	if ("span" in wait) return upperEnd(one, wait);
	if ("after" in wait) {
		const given = givenAnswers(one, one.rule.rule).filter(({ day }) => day === anchor);
		const code = given.map((each) => each.code).find((each) => Object.hasOwn(wait.after, each));
		return durationDays(code === undefined ? wait.usual : (wait.after[code] as string));
	}
	if (wait.green && grows(one, "green")) return durationDays(wait.green);
	if (wait.apogamous && grows(one, "apogamous")) return durationDays(wait.apogamous);
	return durationDays(wait.usual);
}

/** Each turn has its own wait; answers count since the first source of the anchor. */
function turn(one: Case, waits: readonly string[]): number | null {
	const start = latest(one, one.rule.anchor.slice(0, 1));
	const turns = givenAnswers(one, one.rule.rule).filter(
		({ day }) => start === null || day >= start,
	);
	const wait = waits[turns.length];
	return wait === undefined ? null : durationDays(wait);
}

/** The upper end of the usual span, in whole weeks from sowing; an empty span is not asked. */
function upperEnd(one: Case, wait: { span: string; else: string }): number | null {
	if (!one.growing) return durationDays(wait.else);
	const span = one.growing.spans[wait.span];
	return span ? span[1] * 7 : null;
}

function grows(one: Case, manner: "green" | "apogamous"): boolean {
	return one.growing?.[manner] === true;
}
