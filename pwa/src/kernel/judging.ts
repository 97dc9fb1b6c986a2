// All rules of a plan before one box or shelf.

import { type Asking, type Away, weigh } from "./asking";
import type { Case, Growing, Outlook, Rule } from "./plan";
import type { Data, FoldedRecord } from "./record";

/** What stays the same while one subject is judged. */
export interface Setting {
	rules: readonly Rule[];
	inside: readonly FoldedRecord[];
	growing: ReadonlyMap<string, Growing>;
	outlook: ReadonlyMap<string, Outlook>;
	away: Away;
	today: number;
}

export interface Weighed {
	asking: Asking;
	each: FoldedRecord;
}

/** What the rule asks of the subject itself or of each sowing in it, lapsed or not. */
export function weighEach(setting: Setting, rule: Rule, subject: FoldedRecord): Weighed[] {
	return casesOf(setting, rule, subject).flatMap((one) => {
		const asking = weigh(one, setting.away, setting.today);
		return asking ? [{ asking, each: one.each }] : [];
	});
}

export function casesOf(setting: Setting, rule: Rule, subject: FoldedRecord): Case[] {
	if (rule.each !== "sowing") return [byItself(rule, subject)];
	const sowings = sownIn(setting, subject);
	return sowings.map((each) => ({
		rule,
		subject,
		each,
		inside: [],
		growing: setting.growing.get(each.id),
		outlook: setting.outlook.get(each.id),
		alone: sowings.length === 1,
	}));
}

export function byItself(rule: Rule, subject: FoldedRecord, inside: FoldedRecord[] = []): Case {
	return {
		rule,
		subject,
		each: subject,
		inside,
		growing: undefined,
		outlook: undefined,
		alone: false,
	};
}

/** The sowings of a box. Nothing is asked of an unsown control. */
function sownIn(setting: Setting, box: FoldedRecord): FoldedRecord[] {
	return sowingsIn(setting, box).filter((one) => described(one).control !== true);
}

export function sowingsIn(setting: Setting, box: FoldedRecord): FoldedRecord[] {
	return setting.inside.filter((one) => described(one).box === box.id);
}

export function boxesOn(setting: Setting, shelf: FoldedRecord): FoldedRecord[] {
	return setting.inside.filter((one) => one.states.shelf?.value === shelf.id);
}

function described(sowing: FoldedRecord): Data {
	return sowing.fields["sowing.described"] ?? {};
}
