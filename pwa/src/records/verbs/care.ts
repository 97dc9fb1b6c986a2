// The one-tap answer to a task: the care plan says which entries it makes.

import { answerEntries } from "../../kernel/answer";
import type { CarePlan } from "../../kernel/plan";
import { type Id, PhoneError, type Task } from "../../sync/ports";
import { planOf } from "../chores";
import type { Shelves } from "../desk";
import type { AnswerOptions, Verbs } from "../verb-inputs";
import type { Draft, Writer } from "../writer";

export interface CareNeeds {
	writer: Writer;
	shelves(): Shelves;
	/** Plans that boxes name, by the entry that set them. */
	plans(): ReadonlyMap<Id, CarePlan>;
}

export function careVerbs(needs: CareNeeds): Pick<Verbs, "answer"> {
	const { writer } = needs;
	return {
		answer: (task, code, options = {}) =>
			writer.once(["answer", task.id, code, options.sowing ?? null], async () => {
				const drafts = draftsOf(needs, task, code, options);
				return writer.write({ when: options, drafts: () => drafts });
			}),
	};
}

function draftsOf(
	{ writer, shelves, plans }: CareNeeds,
	task: Task,
	code: string,
	{ sowing, until }: AnswerOptions,
): Draft[] {
	const subject = shelves().get(task.subject);
	if (!subject) throw new PhoneError("no-such-record");
	const plan = planOf(subject, plans()) ?? writer.needs.rules.plan;
	const drafts = answerEntries(plan, task, code, subject, {
		...(sowing ? { sowings: [sowing] } : {}),
		...(code === "later" && until ? { until } : {}),
	});
	if (!drafts.length) throw new PhoneError("no-such-question");
	return drafts;
}
