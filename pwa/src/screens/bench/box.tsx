import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";

import { dayLong } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Page } from "../../parts/page";
import { capital, say } from "../../parts/say";
import { Way } from "../../parts/sheet";
import { type Fern, fernsIn, numberOf, shelfOf } from "../../parts/standing";
import { Tag } from "../../parts/tag";
import { TaskQuestion } from "../../parts/task-question";
import { FernName, fullName } from "../../parts/taxon";
import type { FoldedRecord } from "../../records/desk";
import { useAsWritten } from "./as-received";
import { askedOf } from "./box-state";
import { CameFrom, packetsOf } from "./came-from";
import { NotHere } from "./not-here";
import "./bench.css";
import { PartsOfBox } from "./parts-of-box";
import { Standings } from "./standings";
import { Story, useEntries } from "./story";
import { Waiting } from "./waiting";
import { WhatsNew } from "./whats-new";

/** Its own question; or, outright, that it may be left alone, and till when. */
function Asked({ box }: { box: FoldedRecord }) {
	const desk = useDesk();
	const today = desk.today.value;
	const { now, next } = askedOf(desk.allTasks.value, box.id, today);
	const [other, setOther] = useState(false);
	if (now && !other)
		return (
			<TaskQuestion
				key={now.id}
				task={now}
				beside={<Way onPress={() => setOther(true)}>{say("bench.box.something-else")}</Way>}
			/>
		);
	return <WhatsNew box={box.id} ask={leaveIt(next?.rule, next?.due, today)} />;
}

function leaveIt(rule: string | undefined, due: string | undefined, today: string): string {
	if (!due) return say("bench.box.leave");
	if (rule === "round" && due <= today) return say("bench.box.leave-round-now");
	const day = dayLong(due, today);
	if (rule === "first-look") return say("bench.box.leave-first-look", { day });
	if (rule === "round") return say("bench.box.leave-round", { day });
	return say("bench.box.leave-until", { day });
}

function titleOf(
	ferns: Fern[],
	written: string | null,
): { title: ComponentChildren; words: string } {
	const [fern] = ferns;
	if (ferns.length > 1) return { title: say("bench.box.two"), words: say("bench.box.two") };
	if (fern?.control) return { title: say("bench.box.control"), words: say("bench.box.control") };
	const naming = fern?.naming ?? null;
	if (naming?.taxon) return { title: <FernName naming={naming} />, words: fullName(naming) };
	const words = written
		? capital(say("bench.as-received", { words: written }))
		: capital(say("parts.name.unknown"));
	return { title: words, words };
}

/** One box: what it is, its wait, where it came from, the question now, its story. */
export default function Box({ id }: { id: string }) {
	const desk = useDesk();
	const records = desk.records.value;
	const box = records.get(id);
	const sowings = records.sowingsIn(id);
	const entries = useEntries([id, ...sowings.map((sowing) => sowing.id)]);
	const written = useAsWritten(sowings.flatMap(packetsOf));
	if (!box) return <NotHere />;
	const shelf = shelfOf(records, box);
	const { title, words } = titleOf(fernsIn(records, id), written);
	const placed = shelf ? records.labelOf(shelf.id) : say("bench.box.no-shelf");
	const named = records.nameOf(id) ?? null;
	return (
		<Page
			place="bench"
			when={
				<>
					<Tag kind="box" text={numberOf(records.labelOf(id))} /> {placed}
				</>
			}
			title={sowings.length ? title : <FernName naming={named} />}
			windowTitle={words}
			sheet={<Asked key={id} box={box} />}
		>
			<PartsOfBox box={box} />
			<Waiting box={box} entries={entries} />
			<CameFrom box={box} />
			<Standings box={box} />
			<Story entries={entries} />
		</Page>
	);
}
