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

/** A box that wants an answer of its own: its letter on the drawn shelf, what to do, which box. Opens the box. */
export function BoxCard({ task, letter }: { task: Task; letter: string }) {
	const desk = useDesk();
	const records = desk.records.value;
	const growth = growthOfBox(records, task.subject);
	const late = task.due < desk.today.value;
	return (
		<Row
			picture={growth ? growthPictures[growth] : "object-box"}
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
