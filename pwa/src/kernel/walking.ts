// The round: one look a week at all boxes on a shelf that are past their first look.

import { type Asking, backFrom, postponed } from "./asking";
import { durationDays } from "./days";
import { boxesOn, byItself, casesOf, type Setting, sowingsIn, weighEach } from "./judging";
import { holds, latest, type Rule } from "./plan";
import type { FoldedRecord } from "./record";

/**
 * A box that the round may cover. `looked`: the day of its last look. `next`: the first day on which
 * it wants another. `busy`: the day from which a question of its own is open (Infinity: none).
 */
interface Waiting {
	box: string;
	looked: number;
	next: number;
	busy: number;
}

/**
 * When the shelf is to be walked next, and the boxes to look at. Boxes with an open question of
 * their own are left to it; a box looked at on the day itself is not looked at again.
 */
export function roundOf(
	setting: Setting,
	rule: Rule,
	shelf: FoldedRecord,
): { asking: Asking; covers: string[] } | null {
	const waiting = boxesOn(setting, shelf).flatMap((box) => waitingBox(setting, rule, box));
	const free = waiting.filter((one) => one.busy > setting.today);
	if (free.length === 0) return null;
	const asking = askingFor(setting, rule, shelf, Math.min(...free.map((one) => one.next)));
	const byThen = Math.max(asking.due, setting.today);
	const covers = free.filter((one) => one.busy > byThen && one.looked !== byThen);
	return covers.length > 0 ? { asking, covers: covers.map((one) => one.box) } : null;
}

function askingFor(setting: Setting, rule: Rule, shelf: FoldedRecord, earliest: number): Asking {
	const one = byItself(rule, shelf);
	const wait = durationDays(rule.every as string);
	const walked = latest(one, rule.anchor);
	const due = walked === null ? earliest : Math.max(earliest, walked + wait);
	const anchor = due - wait;
	const from = backFrom(setting.away, postponed(one, anchor, due));
	return { anchor, due: from, until: null, fromOutlook: false, lapsed: false };
}

/** Empty: the box is left alone, before its first look or because it was given up. */
function waitingBox(setting: Setting, rule: Rule, box: FoldedRecord): Waiting[] {
	const { first, others } = ownAskings(setting, rule, box);
	if (first.some((one) => !one.lapsed)) return [];
	if (!others.some((one) => one.lapsed) && leftOut(setting, rule, box)) return [];
	const one = byItself(rule, box, sowingsIn(setting, box));
	const looked = latest(one, rule.looks) ?? latest(one, rule.placed);
	if (looked === null) return [];
	const afterFirst = first.flatMap(({ until }) => (until === null ? [] : [until + 1]));
	const next = Math.max(looked + durationDays(rule.every as string), ...afterFirst);
	const open = others.flatMap(({ lapsed, due }) => (lapsed ? [] : [due]));
	return [{ box: box.id, looked, next, busy: Math.min(...open) }];
}

/** What the box is asked by itself: the first look, and everything else. */
function ownAskings(setting: Setting, rule: Rule, box: FoldedRecord) {
	const first: Asking[] = [];
	const others: Asking[] = [];
	for (const own of setting.rules) {
		if (own.subject !== "box") continue;
		const asked = weighEach(setting, own, box).map((one) => one.asking);
		(rule.past?.includes(own.rule) ? first : others).push(...asked);
	}
	return { first, others };
}

function leftOut(setting: Setting, rule: Rule, box: FoldedRecord): boolean {
	const cases = casesOf(setting, { ...rule, each: "sowing" }, box);
	const conditions = rule.leaves_out ?? [];
	if (cases.length === 0 || conditions.length === 0) return false;
	return cases.every((one) => conditions.every((each) => holds(one, each)));
}
