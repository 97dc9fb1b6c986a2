import type { ComponentChildren } from "preact";
import { doingOf } from "../../parts/answering";
import { dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import type { PictogramName } from "../../parts/pictogram";
import { Row } from "../../parts/row";
import { say } from "../../parts/say";
import { fernsIn, growthOfBox, numberOf } from "../../parts/standing";
import { Tag } from "../../parts/tag";
import { FernName } from "../../parts/taxon";
import type { Shelves, Task } from "../../records/desk";

const growthPictures: Record<string, PictogramName> = {
	nothing: "growth-nothing",
	green_film: "growth-green-film",
	prothalli: "growth-prothalli",
	first_fronds: "growth-first-fronds",
	winter_rest: "growth-winter-rest",
};

/** The names of the ferns in a box, one after the other. */
function Ferns({ records, box }: { records: Shelves; box: string }) {
	const names: ComponentChildren[] = [];
	for (const fern of fernsIn(records, box)) {
		if (names.length) names.push(", ");
		names.push(fern.control ? say("parts.control") : <FernName naming={fern.naming} />);
	}
	return <>{names}</>;
}

const pictureOfBox = (records: Shelves, box: string): PictogramName => {
	const growth = growthOfBox(records, box);
	return growth ? (growthPictures[growth] ?? "object-box") : "object-box";
};

/** Which box the sheet asks about: its number and its ferns. */
export function WhichBox({ box }: { box: string }) {
	const records = useDesk().records.value;
	return (
		<Row
			picture={pictureOfBox(records, box)}
			under={
				<span class="ink">
					<Tag kind="box" text={numberOf(records.labelOf(box))} />
					<Ferns records={records} box={box} />
				</span>
			}
			to={`/bench/box/${box}`}
		/>
	);
}

/** A box that wants an answer of its own: its letter on the drawn shelf, what to do, which box. Opens the box. */
export function BoxCard({ task, letter }: { task: Task; letter: string }) {
	const desk = useDesk();
	const records = desk.records.value;
	const late = task.due < desk.today.value;
	return (
		<Row
			picture={pictureOfBox(records, task.subject)}
			main={
				<>
					<i class="let">{letter}</i>
					{doingOf(task.rule)}
				</>
			}
			under={
				<>
					<Tag kind="box" text={numberOf(records.labelOf(task.subject))} />
					<Ferns records={records} box={task.subject} />
				</>
			}
			right={
				late
					? say("today.card.since", { day: dayShort(task.due, desk.today.value) })
					: say("today.card.due")
			}
			to={`/bench/box/${task.subject}`}
		/>
	);
}
