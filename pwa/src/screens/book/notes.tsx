/** What was noted, the newest first; every note can be crossed out with a reason, and brought back. */
import { useState } from "preact/hooks";
import { useDesk } from "../../parts/desk";
import { CrossedOut } from "../../parts/empty";
import { Group, Node, Row } from "../../parts/row";
import { save } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Way } from "../../parts/sheet";
import type { FoldedRecord, StoredEntry } from "../../records/desk";
import { byText, momentText, whoText } from "./people-words";
import { tell } from "./telling";

const newestFirst = (a: StoredEntry, b: StoredEntry) => {
	const key = ({ entry }: StoredEntry) => `${entry.at.slice(0, 19)} ${entry.made}`;
	return key(a) < key(b) ? 1 : -1;
};

const states = {
	held: "book.note.held",
	refused: "book.note.refused",
	unsent: "book.note.unsent",
	replaced: "book.note.replaced",
} as const;

/** Only notes that have not been crossed out themselves may cross out. */
function strikesOf(entries: readonly StoredEntry[], struck: readonly string[]) {
	return new Map(
		entries
			.filter(({ id, entry }) => entry.kind === "entry.struck" && !struck.includes(id))
			.map((stored) => [String(stored.entry.data.entry), stored] as const),
	);
}

function Struck({ stored, strike }: { stored: StoredEntry; strike: StoredEntry | undefined }) {
	const desk = useDesk();
	const records = desk.records.value;
	const today = desk.today.value;
	const under = strike
		? say("book.note.crossed", {
				who: whoText(records, strike.entry.by),
				when: momentText(strike.entry.at, today),
				reason: String(strike.entry.data.reason ?? ""),
			})
		: byText(records, stored, today);
	const restore = (id: string) =>
		save(say("book.note.restored"), () => desk.verbs.strike(id, say("book.note.restored.reason")));
	return (
		<div class="struck-note">
			<CrossedOut words={tell(records, stored.entry).text} under={under} />
			{strike && <Way onPress={() => void restore(strike.id)}>{say("book.note.restore")}</Way>}
		</div>
	);
}

const shownAtFirst = 8;

export function Notes(props: {
	record: FoldedRecord;
	entries: readonly StoredEntry[];
	/** Ask why it is wrong, in the sheet. */
	cross: (stored: StoredEntry) => void;
}) {
	const desk = useDesk();
	const [all, showAll] = useState(false);
	const records = desk.records.value;
	const { record, entries } = props;
	const strikes = strikesOf(entries, record.struck);
	const told = entries.filter(({ entry }) => entry.kind !== "entry.struck").sort(newestFirst);
	const shown = all ? told : told.slice(0, shownAtFirst);
	return (
		<>
			<Group word={say("book.record.notes")} />
			{told.length === 0 && <Node>{say("book.record.notes.none")}</Node>}
			{shown.map((stored) => {
				if (record.struck.includes(stored.id))
					return <Struck key={stored.id} stored={stored} strike={strikes.get(stored.id)} />;
				const { text, picture } = tell(records, stored.entry);
				const state = stored.state === "stored" ? null : say(states[stored.state]);
				const by = byText(records, stored, desk.today.value);
				return (
					<Row
						key={stored.id}
						picture={picture}
						alarm={stored.state === "held" || stored.state === "refused"}
						main={<span class="note">{text}</span>}
						under={state ? `${by}; ${state}` : by}
						right={<Way onPress={() => props.cross(stored)}>{say("book.note.cross")}</Way>}
					/>
				);
			})}
			{told.length > shown.length && (
				<div class="pad">
					<Way onPress={() => showAll(true)}>
						{say("book.more", { n: told.length - shown.length })}
					</Way>
				</div>
			)}
		</>
	);
}
