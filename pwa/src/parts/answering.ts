/** The words of a care plan: its questions, reasons and answer codes, their drawings, what each leads to; and giving one. */
import { addDuration, fromDay, toDay } from "../kernel/days";
import type { Desk, Saved, Task } from "../records/desk";
import type { PictogramName } from "./pictogram";
import { save } from "./saved-strip";
import { capital, isTextKey, say } from "./say";
import { troubles } from "./standing";

const pictures: Readonly<Record<string, PictogramName>> = {
	nothing: "growth-nothing",
	green_film: "growth-green-film",
	growing: "growth-green-film",
	prothalli: "growth-prothalli",
	first_fronds: "growth-first-fronds",
	winter_rest: "growth-winter-rest",
	stalled: "do-later",
	crowded: "density-50",
	mould: "trouble-mould",
	slime: "trouble-slime",
	moss: "trouble-moss",
	liverwort: "trouble-liverwort",
	gnats: "trouble-gnats",
	too_wet: "trouble-too-wet",
	dry: "trouble-dry",
	stray: "trouble-stray",
	flopped: "trouble-flopped",
	as_before: "do-yes",
	later: "do-later",
	keep_at_back: "object-shelf",
	sow_again: "object-packet",
	give_up: "do-cross-out",
	misted: "do-mist",
	already_wet: "do-water",
	thinned: "object-clump",
	waiting: "do-later",
	few: "growth-first-fronds",
	many: "object-clump",
	up: "cover-off",
	came_back: "trouble-flopped",
	limp: "cover-closed",
};

export const pictureOf = (code: string): PictogramName | undefined => pictures[code];

/** The words of a key where there are any: a care plan that people have changed may hold codes of its own. */
const wordsOf = (key: string): string | undefined => (isTextKey(key) ? say(key) : undefined);

const plainly = (code: string) => code.replaceAll("_", " ");

export const answerWord = (code: string): string =>
	wordsOf(`plans.answer.${code}`) ?? plainly(code);

export const leadsTo = (rule: string, code: string): string | undefined =>
	wordsOf(`parts.then.${rule}.${code}`) ?? wordsOf(`parts.then.${code}`);

export const questionOf = (rule: string): string =>
	wordsOf(`plans.${rule}.question`) ?? say("parts.ask.other");

/** What a card says is to be done. */
export const doingOf = (rule: string): string =>
	wordsOf(`parts.do.${rule}`) ?? say("parts.do.other");

/** "later" asks again tomorrow. */
const tomorrow = (today: string) => fromDay(addDuration(toDay(today), "P1D"));

/** Give one answer, and say so in the strip. */
export function answerTask(
	desk: Desk,
	task: Task,
	code: string,
	sowing?: string,
): Promise<Saved | null> {
	const leads = leadsTo(task.rule, code);
	const said = {
		what: capital(desk.records.peek().labelOf(task.subject)),
		answer: answerWord(code).toLowerCase(),
	};
	const words = leads
		? say("parts.saved.answer-leads", { ...said, leads: capital(leads) })
		: say("parts.saved.answer", said);
	const options = {
		...(sowing === undefined ? {} : { sowing }),
		...(code === "later" ? { until: tomorrow(desk.today.peek()) } : {}),
	};
	return save(words, () => desk.verbs.answer(task, code, options));
}

export const isTrouble = (code: string) => (troubles as readonly string[]).includes(code);

export const troubleWord = (code: string): string =>
	wordsOf(`parts.trouble.${code}`) ?? plainly(code);

/** Why it is asked, and what to mind; one tap below the answers. */
export const reasonsOf = (rule: string): string[] =>
	[wordsOf(`plans.${rule}.why`), wordsOf(`plans.${rule}.caution`)].filter(
		(words) => words !== undefined,
	);
