// When one rule asks about one record: from which day, until which, or not at all.

import { durationDays, toDay } from "./days";
import { answers, type Case, givenAnswers, holds, latest, type Wait, waitDays } from "./plan";
import { compareText } from "./record";

export type Away = readonly { from: string; to: string }[];

/**
 * `anchor`: the day from which was counted. `until`: the last day on which it is asked, null: until
 * answered. `lapsed`: that day is over; the round of the shelf takes care of it.
 */
export interface Asking {
	anchor: number;
	due: number;
	until: number | null;
	fromOutlook: boolean;
	lapsed: boolean;
}

/** null: there is nothing to ask, now or later, as things stand. */
export function weigh(one: Case, away: Away, today: number): Asking | null {
	if (!(one.rule.while ?? []).every((each) => holds(one, each))) return null;
	const anchor = latest(one, one.rule.anchor);
	if (anchor === null) return null;
	const [due, fromOutlook] = firstDue(one, anchor);
	if (due === null || done(one, anchor, due) || over(one, due)) return null;
	const from = backFrom(away, postponed(one, anchor, due));
	return inTime(one, { anchor, due: from, until: null, fromOutlook, lapsed: false }, away, today);
}

/** The day itself, or the first day back when it falls into days away. */
export function backFrom(away: Away, day: number): number {
	const spans = [...away].sort((one, other) => compareText(one.from, other.from));
	let back = day;
	for (const { from, to } of spans)
		if (toDay(from) <= back && back <= toDay(to)) back = toDay(to) + 1;
	return back;
}

function firstDue(one: Case, anchor: number): [due: number | null, fromOutlook: boolean] {
	const wait = one.rule.wait ?? (one.rule.every as Wait);
	if (one.outlook && typeof wait === "object" && "span" in wait) {
		return [toDay(one.outlook.to), true];
	}
	const days = waitDays(one, wait, anchor);
	return [days === null ? null : anchor + days, false];
}

/** Answered, or looked at anyway on the day or later. */
function done(one: Case, anchor: number, due: number): boolean {
	const looked = latest(one, one.rule.done_by);
	if (looked !== null && looked >= due) return true;
	return givenAnswers(one, one.rule.rule).some((each) => toDay(each.anchor) === anchor);
}

/** A rule that ends by age is not asked beyond it. */
function over(one: Case, due: number): boolean {
	const { ends } = one.rule;
	const start = "after" in ends ? latest(one, [ends.from]) : null;
	return "after" in ends && start !== null && due > start + durationDays(ends.after);
}

/** The day to which “later” put it off (the next day, where none was named), or `due`. */
export function postponed(one: Case, anchor: number, due: number): number {
	for (const { anchor: date, code, until, day } of answers(one, one.rule.rule)) {
		if (code === "later" && toDay(date) === anchor) {
			return Math.max(due, until ? toDay(until) : day + 1);
		}
	}
	return due;
}

/** What was missed is not heaped up: it lapses, and comes again after the next look. */
function inTime(one: Case, asking: Asking, away: Away, today: number): Asking {
	if (one.rule.until === undefined) return asking;
	const openFor = durationDays(one.rule.until);
	const { again } = one.rule;
	const until = asking.due + openFor;
	const looked = latest(one, again?.anchor);
	if (!again || looked === null || looked <= until)
		return { ...asking, until, lapsed: today > until };
	const due = backFrom(away, looked + durationDays(again.wait));
	return {
		...asking,
		due,
		until: due + openFor,
		fromOutlook: false,
		lapsed: today > due + openFor,
	};
}
