// What an answer makes: the entries that the care plan names for its code. Only phones answer, so
// this has no twin.

import type { Task } from "./due";
import type { CarePlan, Template } from "./plan";
import type { Data, FoldedRecord } from "./record";

/** An entry names at most so many further records. */
const MOST_ALSO = 200;

export interface EntryToBe {
	kind: string;
	about: string;
	also?: string[];
	data: Data;
}

export interface AnswerOptions {
	/** The sowings that the answer is for, where it is not for all that the task covers. */
	sowings?: readonly string[];
	/** With “later”: the day on which to ask again. */
	until?: string;
}

/**
 * The entries that answering `task` with `code` makes, in order; empty when the plan knows no such
 * answer. `subject`: the folded record that the task is about.
 */
export function answerEntries(
	plan: CarePlan,
	task: Task,
	code: string,
	subject: FoldedRecord,
	{ sowings, until }: AnswerOptions = {},
): EntryToBe[] {
	const rule = plan.rules.find((each) => each.rule === task.rule);
	const templates = rule && Object.hasOwn(rule.answers, code) ? rule.answers[code] : [];
	const covers = [...(sowings ?? task.covers)];
	return (templates ?? []).flatMap((template) => {
		const data = dataOf(template, task, code, subject, until);
		return data ? filed(template, task.subject, covers, data) : [];
	});
}

/** null: the template depends on a state, and none of its values is the present one. */
function dataOf(
	{ kind, data, by }: Template,
	task: Task,
	answer: string,
	subject: FoldedRecord,
	until: string | undefined,
): Data | null {
	if (kind === "task.answered") return { task: task.id, answer, ...(until && { until }) };
	if (!by) return data;
	const value = String(subject.states[by.state]?.value ?? null);
	const chosen = Object.hasOwn(by.data, value) ? by.data[value] : undefined;
	return chosen ? { ...data, ...chosen } : null;
}

function filed(
	{ kind, about, also }: Template,
	subject: string,
	covers: string[],
	data: Data,
): EntryToBe[] {
	if (about === "each") {
		return covers.map((each) => ({ kind, about: each, also: [subject], data }));
	}
	if (also !== "covers" || covers.length === 0) return [{ kind, about: subject, data }];
	const parts = Math.ceil(covers.length / MOST_ALSO);
	return Array.from({ length: parts }, (_, i) => ({
		kind,
		about: subject,
		also: covers.slice(i * MOST_ALSO, (i + 1) * MOST_ALSO),
		data,
	}));
}
