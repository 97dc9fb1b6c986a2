/** A task as a question with its answers: the words of each code, its drawing, and what it leads to. */
import { useState } from "preact/hooks";
import { addDuration, fromDay, toDay } from "../kernel/days";
import type { Desk, Saved, Task } from "../records/desk";
import { Answer, Answers } from "./answer";
import { useDesk } from "./desk";
import type { PictogramName } from "./pictogram";
import { save } from "./saved-strip";
import { capital, isTextKey, say } from "./say";
import { Ask } from "./sheet";
import { fernsIn, troubles } from "./standing";
import { FernName } from "./taxon";
import { Tile, Tiles } from "./tiles";

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
};

export const pictureOf = (code: string): PictogramName | undefined => pictures[code];

/** The words of a key where there are any: a care plan that people have changed may hold codes of its own. */
const wordsOf = (key: string): string | undefined => (isTextKey(key) ? say(key) : undefined);

const plainly = (code: string) => code.replaceAll("_", " ");

export const answerWord = (code: string): string =>
	wordsOf(`parts.answer.${code}`) ?? plainly(code);

const leadsTo = (rule: string, code: string): string | undefined =>
	wordsOf(`parts.then.${rule}.${code}`) ?? wordsOf(`parts.then.${code}`);

export const questionOf = (rule: string): string =>
	wordsOf(`parts.ask.${rule}`) ?? say("parts.ask.other");

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

/** Which of the ferns in a box is answered for; asked only where it holds more than one. */
function WhichFern(props: {
	box: string;
	chosen: string | undefined;
	choose: (sowing: string) => void;
}) {
	const ferns = fernsIn(useDesk().records.value, props.box);
	if (ferns.length < 2) return null;
	return (
		<Tiles>
			{ferns.map((fern, i) => (
				<Tile
					key={fern.sowing.id}
					picture="object-two-sowings"
					word={
						<>
							<i>{fern.part ?? "abcdefgh"[i]}</i> <FernName naming={fern.naming} />
						</>
					}
					pressed={props.chosen === fern.sowing.id}
					onPress={() => props.choose(fern.sowing.id)}
				/>
			))}
		</Tiles>
	);
}

export interface TaskQuestionProps {
	task: Task;
	/** An answer that came with the address (a notice): shown as chosen, still one tap to save. */
	offered?: string | undefined;
	onAnswered?: ((code: string) => void) | undefined;
}

/** Troubles stand side by side as tiles, one tap each; a few others lead the list, "not now" ends it. */
const isTrouble = (code: string) => (troubles as readonly string[]).includes(code);
const first = (code: string) => !isTrouble(code) && code !== "later";

export function TaskQuestion({ task, offered, onAnswered }: TaskQuestionProps) {
	const desk = useDesk();
	const several = fernsIn(desk.records.value, task.subject).length > 1;
	const [sowing, choose] = useState<string | undefined>(undefined);
	const waiting = several && sowing === undefined;
	const give = async (code: string) => {
		if (await answerTask(desk, task, code, sowing)) onAnswered?.(code);
	};
	const pressed = (code: string) => (offered === undefined ? undefined : offered === code);
	const answer = (code: string) => (
		<Answer
			key={code}
			word={answerWord(code)}
			picture={pictureOf(code)}
			then={leadsTo(task.rule, code)}
			pressed={pressed(code)}
			disabled={waiting && code !== "later"}
			onPress={() => void give(code)}
		/>
	);
	return (
		<>
			<Ask>{waiting ? say("parts.ask.which-fern") : questionOf(task.rule)}</Ask>
			<WhichFern box={task.subject} chosen={sowing} choose={choose} />
			<Answers>{task.ask.filter(first).map(answer)}</Answers>
			{task.ask.some(isTrouble) && (
				<Tiles shape="four">
					{task.ask.filter(isTrouble).map((code) => (
						<Tile
							key={code}
							word={wordsOf(`parts.trouble.${code}`) ?? plainly(code)}
							picture={pictureOf(code) ?? "do-fix"}
							pressed={pressed(code)}
							disabled={waiting}
							onPress={() => void give(code)}
						/>
					))}
				</Tiles>
			)}
			<Answers>{task.ask.includes("later") && answer("later")}</Answers>
		</>
	);
}
