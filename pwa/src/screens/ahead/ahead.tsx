/** Ahead: what is asked next and until when, what is left alone, and what was ripe in past years. */
import { useState } from "preact/hooks";
import { doingOf } from "../../parts/answering";
import { letterOf } from "../../parts/counting";
import { dayLong, dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Empty } from "../../parts/empty";
import { Page } from "../../parts/page";
import { Group, Node, Row } from "../../parts/row";
import { say } from "../../parts/say";
import { Way } from "../../parts/sheet";
import { numberOf } from "../../parts/standing";
import { Tag } from "../../parts/tag";
import { FernName } from "../../parts/taxon";
import { Tile, Tiles } from "../../parts/tiles";
import type { Task } from "../../records/desk";
import "./ahead.css";
import { coming, dueNow, type RipeAgain, useRipeAgain } from "./coming";
import { WeeksPicture } from "./weeks-picture";

/** As many as the picture holds with letters. */
const drawn = 6;

function windowText({ due, until }: Task, today: string): string {
	const from = dayShort(due, today);
	return until && until !== due ? say("ahead.window", { from, to: dayShort(until, today) }) : from;
}

/** A question about one box, tied to the picture by its letter. */
function AskRow({ task, letter }: { task: Task; letter: string | null }) {
	const desk = useDesk();
	const records = desk.records.value;
	const record = records.get(task.subject);
	const number = numberOf(records.labelOf(task.subject));
	const box = record?.type === "box";
	return (
		<Row
			picture={box ? "object-box" : "object-shelf"}
			main={
				<>
					{letter && <i class="let">{letter}</i>}
					{doingOf(task.rule)}
				</>
			}
			under={
				box ? (
					<>
						<Tag kind="box" text={number} />
						<FernName naming={records.nameOf(task.subject)} />
					</>
				) : (
					records.labelOf(task.subject)
				)
			}
			right={windowText(task, desk.today.value)}
			to={box ? `/bench/box/${task.subject}` : `/bench/shelf/${task.subject}`}
		/>
	);
}

function Asks({ asks }: { asks: Task[] }) {
	const today = useDesk().today.value;
	const [all, showAll] = useState(false);
	if (!asks.length) return null;
	const shown = all ? asks : asks.slice(0, drawn);
	return (
		<>
			<WeeksPicture tasks={asks.slice(0, drawn)} today={today} />
			<Group word={say("ahead.boxes")} />
			{shown.map((task, i) => (
				<AskRow key={task.id} task={task} letter={i < drawn ? letterOf(i) : null} />
			))}
			{asks.length > shown.length && (
				<div class="pad">
					<Way onPress={() => showAll(true)}>
						{say("ahead.more", { n: asks.length - shown.length })}
					</Way>
				</div>
			)}
		</>
	);
}

function Rounds({ rounds }: { rounds: Task[] }) {
	const desk = useDesk();
	const records = desk.records.value;
	if (!rounds.length) return null;
	return (
		<>
			<Group word={say("ahead.rounds")} />
			{rounds.map((task) => (
				<Row
					key={task.id}
					picture="do-round"
					main={say("ahead.round", {
						shelf: records.labelOf(task.subject),
						n: task.covers.length,
					})}
					right={windowText(task, desk.today.value)}
					to={`/bench/shelf/${task.subject}`}
				/>
			))}
			<Node>{say("ahead.rest")}</Node>
		</>
	);
}

function ripeText({ next }: RipeAgain, today: string): string {
	const bare = (day: string) => dayLong(`${today.slice(0, 4)}${day.slice(4)}`, today);
	if (next.say === "one") return say("ahead.ripe.one", { day: bare(next.day), year: next.year });
	return say("ahead.ripe.more", { from: bare(next.from), to: bare(next.to), n: next.n });
}

function Ripe({ again }: { again: RipeAgain[] }) {
	const desk = useDesk();
	const records = desk.records.value;
	if (!again.length) return null;
	return (
		<>
			<Group word={say("ahead.ripe")} remark={say("ahead.ripe.remark")} />
			{again.map((one) => (
				<Row
					key={one.plant.id}
					picture="object-plant"
					main={<FernName naming={records.nameOf(one.plant.id)} />}
					under={`${records.labelOf(one.plant.id)}: ${ripeText(one, desk.today.value)}`}
					to={`/field/plant/${one.plant.id}`}
				/>
			))}
		</>
	);
}

/** The case, in a sentence: what wants one now, and until when the rest is left alone. */
function titleOf(now: number, next: Task | undefined, ripe: boolean, today: string): string {
	const day = next && dayLong(next.due, today);
	if (now)
		return day ? say("ahead.title.now", { n: now, day }) : say("ahead.title.now-only", { n: now });
	if (day) return say("ahead.title.alone", { day });
	return ripe ? say("ahead.ripe") : say("ahead.title.none");
}

export default function Ahead() {
	const desk = useDesk();
	const today = desk.today.value;
	const tasks = desk.allTasks.value;
	const { asks, rounds } = coming(tasks, today);
	const again = useRipeAgain();
	const now = dueNow(tasks, today).length;
	const [next] = [...asks, ...rounds].sort((a, b) => (a.due < b.due ? -1 : 1));
	const nothing = !asks.length && !rounds.length && !again.length;
	return (
		<Page
			place="ahead"
			when={say("ahead.when", { day: dayLong(today, today) })}
			title={titleOf(now, next, again.length > 0, today)}
			sheet={
				<Tiles>
					<Tile picture="go-today" word={say("ahead.today")} to="/" />
					<Tile picture="object-plant" word={say("ahead.plants")} to="/book?type=plant" />
					<Tile picture="do-away" word={say("ahead.away")} to="/book/reminders" />
				</Tiles>
			}
		>
			{nothing && (
				<Empty picture="go-ahead" words={say("ahead.empty")} under={say("ahead.empty.under")} />
			)}
			<Asks asks={asks} />
			<Rounds rounds={rounds} />
			<Ripe again={again} />
		</Page>
	);
}
