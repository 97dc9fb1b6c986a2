import { Answer, Answers } from "../../parts/answer";
import { answerTask } from "../../parts/answering";
import { dayLong, dayOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { go } from "../../parts/route";
import { Row } from "../../parts/row";
import { say } from "../../parts/say";
import { Ask, Foot, Way } from "../../parts/sheet";
import type { Task } from "../../records/desk";
import { lastWalked } from "./day";

/** The round of a shelf, as one question. "All as before" writes one look at each box, then the odd ones are tapped. */
export function RoundCard({ task }: { task: Task }) {
	const desk = useDesk();
	const records = desk.records.value;
	const shelf = records.get(task.subject);
	const label = records.labelOf(task.subject);
	const n = task.covers.filter((id) => records.get(id)?.type === "box").length;
	const walked = lastWalked(shelf);
	const asBefore = async () => {
		if (await answerTask(desk, task, "as_before")) go(`/bench/shelf/${task.subject}`);
	};
	return (
		<>
			<Row
				picture="do-round"
				aside
				under={
					walked
						? say("today.round.last", {
								shelf: label,
								day: dayLong(dayOf(walked), desk.today.value),
							})
						: say("today.round.first", { shelf: label })
				}
			/>
			<Ask>{say("today.round.ask", { n, shelf: label })}</Ask>
			<Answers>
				<Answer
					word={say("parts.answer.as_before")}
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
			<Foot>
				<Way to="/book/cautions">{say("today.round.why")}</Way>
				<Way to="/bench">{say("today.open-box")}</Way>
			</Foot>
		</>
	);
}
