// What is due: a care plan held against the records of a box or shelf.
//
// A pure function of whole local dates; `today` decides only what has lapsed and what a round
// covers. Tasks of days to come are given too: what is due now is what has `due` up to today. There
// is at most one task for each rule and subject.

import type { Asking, Away } from "./asking";
import { fromDay, toDay } from "./days";
import { type Setting, type Weighed, weighEach } from "./judging";
import type { CarePlan, Growing, Outlook, Rule } from "./plan";
import { compareText, type FoldedRecord } from "./record";
import { roundOf } from "./walking";

export type { CarePlan, Growing, Outlook } from "./plan";

/**
 * `id` is `{subject}/{rule}/{anchor date}`. `until`: the last day on which it is asked, or null.
 * `covers`: the sowings that the question is about; of a round, the boxes.
 */
export interface Task {
	id: string;
	subject: string;
	rule: string;
	due: string;
	until: string | null;
	ask: string[];
	from_outlook: boolean;
	covers: string[];
}

/**
 * The tasks about `subject`, a folded box or shelf, by (due, id).
 *
 * `inside`: records that stand on or in it (of a shelf: its boxes and their sowings). `growing`: by
 * sowing, how its fern usually grows; a sowing that is left out is of an unknown kind. `outlook`:
 * rows for sowings, the highest `n` wins. `away`: days on which nothing can be done.
 */
export function due(
	plan: CarePlan,
	subject: FoldedRecord,
	inside: readonly FoldedRecord[],
	growing: { readonly [sowing: string]: Growing },
	outlook: readonly Outlook[],
	away: Away,
	today: string,
): Task[] {
	const rows = [...outlook].sort((one, other) => one.n - other.n);
	const setting: Setting = {
		rules: plan.rules,
		inside,
		growing: new Map(Object.entries(growing)),
		outlook: new Map(rows.map((row) => [row.about, row])),
		away,
		today: toDay(today),
	};
	const rules = plan.rules.filter((rule) => rule.subject === subject.type);
	const tasks = rules.flatMap((rule) => taskOf(setting, rule, subject));
	return tasks.sort(
		(one, other) => compareText(one.due, other.due) || compareText(one.id, other.id),
	);
}

function taskOf(setting: Setting, rule: Rule, subject: FoldedRecord): Task[] {
	if (rule.each === "box") {
		const round = roundOf(setting, rule, subject);
		return round ? [written(rule, subject, round.asking, round.covers)] : [];
	}
	const asked = weighEach(setting, rule, subject).filter((one) => !one.asking.lapsed);
	const [first] = asked.toSorted(earlier);
	if (!first) return [];
	const { anchor, due: from } = first.asking;
	const byThen = Math.max(from, setting.today);
	const same = asked.filter(({ asking }) => asking.anchor === anchor && asking.due <= byThen);
	const covers = rule.each ? same.map((one) => one.each.id) : [];
	return [written(rule, subject, first.asking, covers)];
}

function earlier({ asking: one, each }: Weighed, { asking: other, each: next }: Weighed): number {
	return one.due - other.due || one.anchor - other.anchor || compareText(each.id, next.id);
}

function written(rule: Rule, subject: FoldedRecord, asking: Asking, covers: string[]): Task {
	return {
		id: `${subject.id}/${rule.rule}/${fromDay(asking.anchor)}`,
		subject: subject.id,
		rule: rule.rule,
		due: fromDay(asking.due),
		until: asking.until === null ? null : fromDay(asking.until),
		ask: [...rule.ask],
		from_outlook: asking.fromOutlook,
		covers: [...covers].sort(),
	};
}
