import { useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { answerTask } from "../../parts/answering";
import { dayLong, dayOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { go } from "../../parts/route";
import { Row } from "../../parts/row";
import { capital, say } from "../../parts/say";
import { Ask, Foot, Remark, Way } from "../../parts/sheet";
import type { Task } from "../../records/desk";
import { lastWalked } from "./day";

function LastWalked({ shelf }: { shelf: string }) {
	const desk = useDesk();
	const records = desk.records.value;
	const walked = lastWalked(records.get(shelf));
	const label = capital(records.labelOf(shelf));
	const words = walked
		? say("today.round.last", { shelf: label, day: dayLong(dayOf(walked), desk.today.value) })
		: say("today.round.first", { shelf: label });
	return <Row picture="do-round" aside under={words} />;
}

/** The round of a shelf, as one question. "All as before" writes one look at each box, then the odd ones are tapped. */
export function RoundCard({ task }: { task: Task }) {
	const desk = useDesk();
	const records = desk.records.value;
	const [why, setWhy] = useState(false);
	const label = records.labelOf(task.subject);
	const n = task.covers.filter((id) => records.get(id)?.type === "box").length;
	const asBefore = async () => {
		if (await answerTask(desk, task, "as_before")) go(`/bench/shelf/${task.subject}`);
	};
	return (
		<>
			<LastWalked shelf={task.subject} />
			<Ask>{say("today.round.ask", { n, shelf: label })}</Ask>
			<Answers>
				<Answer
					word={say("plans.answer.as_before")}
					picture="do-yes"
					under={say("today.round.noted", { n })}
					onPress={() => void asBefore()}
				/>
				<Answer
					word={say("today.round.not-today")}
					picture="do-later"
					then={say("parts.then.later")}
					onPress={() => void answerTask(desk, task, "later")}
				/>
			</Answers>
			{why && <Remark>{say("plans.round.why")}</Remark>}
			<Foot aside>
				<Way onPress={() => setWhy(!why)}>{say(why ? "parts.why-close" : "today.round.why")}</Way>
				<Way to="/bench">{say("today.open-box")}</Way>
			</Foot>
		</>
	);
}
