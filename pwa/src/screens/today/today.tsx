import { letterOf } from "../../parts/counting";
import { dayLong, weekdayOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Empty } from "../../parts/empty";
import { Page } from "../../parts/page";
import { Node } from "../../parts/row";
import { say } from "../../parts/say";
import { TaskQuestion } from "../../parts/task-question";
import { BoxCard, WhichBox } from "./box-card";
import { type Day, dayOfTasks, lastWalked } from "./day";
import { Demo } from "./demo";
import { Doors } from "./doors";
import { LongAway } from "./long-away";
import { Beginnings } from "./newcomer";
import { Notices } from "./notices";
import { RoundCard } from "./round-card";
import { ShelvesDrawn } from "./shelves-drawn";
import { titleOf } from "./title";

/** More cards than this are not drawn: the round of a shelf says the rest. */
const mostCards = 8;

/** The one thing asked now: a round first, then the first box, else nothing but doors. */
function Asked({ day }: { day: Day }) {
	const [round] = day.rounds;
	const [card] = day.cards;
	if (!day.boxes) return <Beginnings />;
	if (round) return <RoundCard key={round.id} task={round} />;
	if (card)
		return (
			<>
				<WhichBox box={card.subject} />
				<TaskQuestion key={card.id} task={card} />
			</>
		);
	return <Doors />;
}

function Cards({ day }: { day: Day }) {
	const today = useDesk().today.value;
	const rest = day.cards.length - mostCards;
	return (
		<>
			{day.cards.slice(0, mostCards).map((task, i) => (
				<BoxCard key={task.id} task={task} letter={letterOf(i)} />
			))}
			{rest > 0 && <Node>{say("today.more", { n: rest })}</Node>}
			{!day.cards.length && !day.rounds.length && (
				<Node>
					{day.next ? say("today.next", { day: dayLong(day.next, today) }) : say("today.no-next")}
				</Node>
			)}
			<Node>{say("today.nothing-else")}</Node>
		</>
	);
}

/** What is due, and what may be left alone. */
export default function Today() {
	const desk = useDesk();
	const records = desk.records.value;
	const today = desk.today.value;
	const day = dayOfTasks(desk.tasks.value, records, today);
	const [round] = day.rounds;
	return (
		<Page place="today" when={weekdayOf(today)} title={titleOf(day)} sheet={<Asked day={day} />}>
			<Notices />
			{day.boxes ? (
				<>
					{round && <LongAway walked={lastWalked(records.get(round.subject))} />}
					<ShelvesDrawn cards={day.cards.slice(0, mostCards)} />
					<Cards day={day} />
				</>
			) : (
				<Empty picture="object-box" words={say("today.empty")} under={say("today.empty-under")} />
			)}
			<Demo />
		</Page>
	);
}
