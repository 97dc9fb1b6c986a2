import { useState } from "preact/hooks";
import { dayOf, dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Page } from "../../parts/page";
import { isTextKey, say } from "../../parts/say";
import { Foot, Way } from "../../parts/sheet";
import type { FoldedRecord } from "../../records/desk";
import { RecordRow } from "./record-row";

const shownAtFirst = 40;

/** The day of the first fact; a record that only was described has none that means anything. */
function firstDay(record: FoldedRecord): string | null {
	const days = Object.entries(record.first)
		.filter(([kind]) => !kind.endsWith(".described") && kind !== "name.given")
		.map(([, { at }]) => at);
	return days.sort()[0] ?? null;
}

/** All records of one kind, by label. */
export function RecordsOfType({ type }: { type: string }) {
	const desk = useDesk();
	const [most, show] = useState(shownAtFirst);
	const all = desk.records.value.ofType(type);
	const key = `book.type.${type}`;
	return (
		<Page
			place="book"
			when={say("book.when")}
			title={isTextKey(key) ? say(key) : type}
			sheet={
				<Foot>
					<Way to="/book">{say("book.back")}</Way>
				</Foot>
			}
		>
			{all.slice(0, most).map((record) => {
				const day = firstDay(record);
				return (
					<RecordRow
						key={record.id}
						id={record.id}
						right={day ? dayShort(dayOf(day), desk.today.value) : undefined}
					/>
				);
			})}
			{all.length > most && (
				<div class="pad">
					<Way onPress={() => show(most + shownAtFirst)}>
						{say("book.more", { n: all.length - most })}
					</Way>
				</div>
			)}
		</Page>
	);
}
