import { useDesk } from "../../parts/desk";
import { Node, Say } from "../../parts/row";
import { say } from "../../parts/say";
import { sownAt } from "../../parts/standing";
import { WaitPicture } from "../../parts/wait-picture";
import type { FoldedRecord, StoredEntry } from "../../records/desk";
import { looksOf, waitOf } from "./box-state";

/** The wait of a box that has not come up yet: a sentence, the picture, and that the band is no limit. */
export function Waiting({ box, entries }: { box: FoldedRecord; entries: StoredEntry[] }) {
	const desk = useDesk();
	const records = desk.records.value;
	const today = desk.today.value;
	const wait = waitOf(records, box, today);
	const sown = sownAt(records, box.id);
	if (!wait || !sown) return <Node>{say("bench.wait.unknown-day")}</Node>;
	if (wait.stands === "green" || wait.day < 0) return null;
	const [from, to] = wait.usual ?? [0, 0];
	return (
		<>
			<Say>
				<b class="lead">{say(`bench.wait.${wait.stands}`)}</b>{" "}
				{wait.usual
					? say(wait.guess ? "bench.wait.guess" : "bench.wait.usual", { day: wait.day, from, to })
					: say("bench.wait.no-usual", { day: wait.day })}
			</Say>
			<WaitPicture day={wait.day} usual={wait.usual} looks={looksOf(entries, sown, today)} />
			{wait.usual && <Node>{say("bench.wait.practice")}</Node>}
		</>
	);
}
