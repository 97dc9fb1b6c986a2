import { Answer, Answers } from "../../parts/answer";
import { answerWord } from "../../parts/answering";
import { useDesk } from "../../parts/desk";
import { Page } from "../../parts/page";
import { go, route } from "../../parts/route";
import { Row } from "../../parts/row";
import { say } from "../../parts/say";
import { TaskQuestion } from "../../parts/task-question";
import { BoxCard } from "./box-card";
import { RoundCard } from "./round-card";

/** Where a notice leads: its question with its answers; or that it has been answered already. */
export default function FromNotice() {
	const desk = useDesk();
	const { query } = route.value;
	const id = query.get("task") ?? "";
	const code = query.get("code") ?? undefined;
	const task = desk.allTasks.value.find((one) => one.id === id);
	const [subject = ""] = id.split("/");
	const record = desk.records.value.get(subject);
	const given = record?.states[`task:${id}`]?.value;
	const answer =
		given && typeof given === "object" && "answer" in given ? String(given.answer) : undefined;
	const toToday = <Answer word={say("today.answer.to-today")} picture="go-today" to="/" />;
	if (!task)
		return (
			<Page
				place="today"
				when={say("today.answer.when")}
				title={say("today.answer.gone")}
				sheet={<Answers>{toToday}</Answers>}
			>
				<Row
					picture="do-yes"
					main={record ? desk.records.value.labelOf(subject) : undefined}
					under={answer ? answerWord(answer) : say("today.answer.gone-under")}
					to={record?.type === "box" ? `/bench/box/${subject}` : undefined}
				/>
			</Page>
		);
	const sheet =
		task.rule === "round" ? (
			<RoundCard task={task} />
		) : (
			<TaskQuestion task={task} offered={code} onAnswered={() => go("/", { replace: true })} />
		);
	return (
		<Page
			place="today"
			when={say("today.answer.when")}
			title={say("today.answer.title")}
			sheet={sheet}
		>
			{task.rule !== "round" && <BoxCard task={task} letter="a" />}
		</Page>
	);
}
