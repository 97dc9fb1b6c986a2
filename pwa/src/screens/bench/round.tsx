import { useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { answerTask } from "../../parts/answering";
import { dayLong, dayOf, timeOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Empty } from "../../parts/empty";
import { Page } from "../../parts/page";
import { go } from "../../parts/route";
import { save } from "../../parts/saved-strip";
import { capital, say } from "../../parts/say";
import { Ask, Foot, Way } from "../../parts/sheet";
import { TapBox, TapShelf } from "../../parts/shelf-picture";
import type { FoldedRecord } from "../../records/desk";
import { NotHere } from "./not-here";
import { OddOne } from "./odd-one";
import { type RoundBox, roundBoxes } from "./round-state";

/** A shelf that was walked today is only tapped for its exceptions. */
function useRound(shelf: FoldedRecord | undefined) {
	const desk = useDesk();
	const today = desk.today.value;
	const walked = shelf?.last["shelf.walked"]?.at ?? null;
	const task = desk.allTasks.value.find(
		(one) => one.rule === "round" && one.subject === shelf?.id && one.due <= today,
	);
	return { walked, walkedToday: walked !== null && dayOf(walked) === today, task };
}

function WalkIt({ shelf, n }: { shelf: FoldedRecord; n: number }) {
	const desk = useDesk();
	const { task } = useRound(shelf);
	const label = desk.records.value.labelOf(shelf.id);
	const walk = () =>
		task
			? answerTask(desk, task, "as_before")
			: save(
					say("parts.saved.answer", { what: label, answer: say("plans.answer.as_before") }),
					() => desk.verbs.walkShelf(shelf.id),
				);
	return (
		<>
			<Ask>{say("bench.round.ask", { n })}</Ask>
			<Answers>
				<Answer
					word={say("plans.answer.as_before")}
					picture="do-yes"
					under={say("bench.round.noted", { n })}
					onPress={() => void walk()}
				/>
			</Answers>
			<Foot>
				<Way to="/">{say("bench.round.not-now")}</Way>
				<Way to="/bench/sow">{say("bench.sow")}</Way>
			</Foot>
		</>
	);
}

function Walked({ different }: { different: number }) {
	return (
		<>
			<Ask>{say("bench.round.tap")}</Ask>
			<Answers>
				<Answer
					main
					word={
						different ? say("bench.round.done", { n: different }) : say("bench.round.all-alike")
					}
					picture="do-yes"
					to="/"
				/>
			</Answers>
		</>
	);
}

function whenOf(label: string, walked: string | null, today: string, n: number): string {
	if (!walked) return say("bench.round.first", { shelf: label });
	if (dayOf(walked) === today)
		return say("bench.round.today", { shelf: label, n, time: timeOf(walked) });
	return say("bench.round.last", { shelf: label, day: dayLong(dayOf(walked), today) });
}

/** Boxes that are looked at on the round: those without a card of their own. */
const ofTheRound = (boxes: RoundBox[]): number => boxes.filter((box) => !box.own).length;

function titleOf(boxes: RoundBox[], walkedToday: boolean): string {
	const n = ofTheRound(boxes);
	if (boxes.length && !n) return say("bench.round.title-own");
	return walkedToday ? say("bench.round.title-walked") : say("bench.round.title", { n });
}

interface SheetProps {
	shelf: FoldedRecord;
	boxes: RoundBox[];
	chosen: string | null;
	choose: (box: string | null) => void;
}

function RoundSheet({ shelf, boxes, chosen, choose }: SheetProps) {
	const { walkedToday } = useRound(shelf);
	const different = boxes.filter((box) => box.seen).length;
	const box = boxes.find((one) => one.id === chosen);
	if (box)
		return <OddOne key={box.id} box={box} different={different} leave={() => choose(null)} />;
	if (!boxes.length)
		return (
			<Answers>
				<Answer word={say("bench.sow")} picture="object-packet" to="/bench/sow" />
				<Answer word={say("bench.here")} picture="object-box" to="/bench/here" />
			</Answers>
		);
	const n = ofTheRound(boxes);
	if (!n) return <Ask>{say("bench.round.own")}</Ask>;
	return walkedToday ? <Walked different={different} /> : <WalkIt shelf={shelf} n={n} />;
}

/** The round of a shelf: all of it in one look, and a tap for each box that is different. */
export default function Round({ id }: { id: string }) {
	const desk = useDesk();
	const records = desk.records.value;
	const today = desk.today.value;
	const shelf = records.get(id);
	const [chosen, choose] = useState<string | null>(null);
	const { walked, walkedToday } = useRound(shelf);
	if (!shelf) return <NotHere />;
	const boxes = roundBoxes(records, id, desk.allTasks.value, today);
	return (
		<Page
			place="bench"
			when={whenOf(capital(records.labelOf(id)), walked, today, ofTheRound(boxes))}
			title={titleOf(boxes, walkedToday)}
			sheet={<RoundSheet shelf={shelf} boxes={boxes} chosen={chosen} choose={choose} />}
		>
			<TapShelf>
				{boxes.map((box) => (
					<TapBox
						key={box.id}
						number={box.number}
						growth={box.growth}
						seen={box.seen}
						dotted={box.own}
						label={say("parts.tag.box", { text: box.number })}
						pressed={chosen === box.id}
						onPress={() =>
							box.own ? go(`/bench/box/${box.id}`) : choose(chosen === box.id ? null : box.id)
						}
					/>
				))}
				{boxes.some((box) => box.own) && <p class="small beside">{say("bench.round.dotted")}</p>}
			</TapShelf>
			{!boxes.length && <Empty picture="object-shelf" words={say("bench.round.empty")} />}
		</Page>
	);
}
