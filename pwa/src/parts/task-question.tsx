/** A task as a question with its answers, from the care plan: words, drawings, what each leads to, and why it is asked. */
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Task } from "../records/desk";
import { Answer, Answers } from "./answer";
import {
	answerTask,
	answerWord,
	isTrouble,
	leadsTo,
	pictureOf,
	questionOf,
	reasonsOf,
	troubleWord,
} from "./answering";
import { useDesk } from "./desk";
import { say } from "./say";
import { Ask, Foot, Remark, Way } from "./sheet";
import { type Fern, fernsIn } from "./standing";
import { FernName } from "./taxon";
import { Tile, Tiles } from "./tiles";

/** The ferns that the question is about. */
function useAsked(task: Task): Fern[] {
	const ferns = fernsIn(useDesk().records.value, task.subject);
	const covered = ferns.filter(({ sowing }) => task.covers.includes(sowing.id));
	return covered.length ? covered : ferns;
}

/** Which of several ferns under one lid is answered for. */
function WhichFern(props: {
	ferns: Fern[];
	chosen: string | undefined;
	choose: (sowing: string) => void;
}) {
	return (
		<Tiles>
			{props.ferns.map((fern, i) => (
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

interface CodesProps {
	task: Task;
	/** One was chosen before (by a notice): shown so, still one tap to save. */
	offered: string | undefined;
	disabled: boolean;
	give: (code: string) => void;
}

const pressed = (offered: string | undefined, code: string) =>
	offered === undefined ? undefined : offered === code;

function CodeAnswers(props: CodesProps & { codes: string[] }) {
	if (!props.codes.length) return null;
	return (
		<Answers>
			{props.codes.map((code) => (
				<Answer
					key={code}
					word={answerWord(code)}
					picture={pictureOf(code)}
					then={leadsTo(props.task.rule, code)}
					pressed={pressed(props.offered, code)}
					disabled={props.disabled && code !== "later"}
					onPress={() => props.give(code)}
				/>
			))}
		</Answers>
	);
}

/** Troubles stand side by side, one tap each. */
function TroubleTiles(props: CodesProps & { codes: string[] }) {
	if (!props.codes.length) return null;
	return (
		<Tiles shape="four">
			{props.codes.map((code) => (
				<Tile
					key={code}
					word={troubleWord(code)}
					picture={pictureOf(code) ?? "do-fix"}
					pressed={pressed(props.offered, code)}
					disabled={props.disabled}
					onPress={() => props.give(code)}
				/>
			))}
		</Tiles>
	);
}

export interface TaskQuestionProps {
	task: Task;
	offered?: string | undefined;
	onAnswered?: ((code: string) => void) | undefined;
	/** A further way beside "Why?". */
	beside?: ComponentChildren;
}

export function TaskQuestion({ task, offered, onAnswered, beside }: TaskQuestionProps) {
	const desk = useDesk();
	const ferns = useAsked(task);
	const [chosen, choose] = useState<string | undefined>(undefined);
	const [why, setWhy] = useState(false);
	const waiting = ferns.length > 1 && chosen === undefined;
	const [only] = task.covers.length === 1 ? task.covers : [];
	const give = async (code: string) => {
		if (await answerTask(desk, task, code, chosen ?? only)) onAnswered?.(code);
	};
	const reasons = reasonsOf(task.rule);
	const codes = { task, offered, disabled: waiting, give: (code: string) => void give(code) };
	return (
		<>
			<Ask>{waiting ? say("parts.ask.which-fern") : questionOf(task.rule)}</Ask>
			{ferns.length > 1 && <WhichFern ferns={ferns} chosen={chosen} choose={choose} />}
			<CodeAnswers
				{...codes}
				codes={task.ask.filter((code) => !isTrouble(code) && code !== "later")}
			/>
			<TroubleTiles {...codes} codes={task.ask.filter(isTrouble)} />
			<CodeAnswers {...codes} codes={task.ask.filter((code) => code === "later")} />
			{why && <Remark>{reasons.join(" ")}</Remark>}
			<Foot>
				{reasons.length > 0 && (
					<Way onPress={() => setWhy(!why)}>{say(why ? "parts.why-close" : "parts.why")}</Way>
				)}
				{beside}
			</Foot>
		</>
	);
}
