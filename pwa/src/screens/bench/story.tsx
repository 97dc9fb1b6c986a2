import { useEffect, useState } from "preact/hooks";
import { dayLong, dayOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { CrossedOut } from "../../parts/empty";
import { type NoteWords, noteWords } from "../../parts/note-words";
import { Group, Row } from "../../parts/row";
import { save } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Way } from "../../parts/sheet";
import type { Shelves, StoredEntry } from "../../records/desk";
import type { Entry } from "../../sync/wire";

/** The notes of a record and of what is in it, as they are stored; read again whenever the records change. */
export function useEntries(ids: readonly string[]): StoredEntry[] {
	const desk = useDesk();
	const [entries, setEntries] = useState<StoredEntry[]>([]);
	const records = desk.records.value;
	const key = ids.join(" ");
	useEffect(() => {
		let wanted = true;
		Promise.all(
			key
				.split(" ")
				.filter(Boolean)
				.map((id) => desk.entriesOf(id)),
		).then((found) => {
			const once = new Map(found.flat().map((stored) => [stored.id, stored]));
			if (wanted) setEntries([...once.values()]);
		});
		return () => {
			wanted = false;
		};
	}, [desk, key, records]);
	return entries;
}

const newestFirst = (a: StoredEntry, b: StoredEntry) =>
	b.entry.at === a.entry.at
		? b.entry.made < a.entry.made
			? -1
			: 1
		: b.entry.at < a.entry.at
			? -1
			: 1;

const shownAtFirst = 4;

interface Told {
	stored: StoredEntry;
	words: NoteWords;
	/** The note that crossed it out. */
	strike: Entry | undefined;
}

/** The notes that have words, newest first, each with what crossed it out. */
function tell(records: Shelves, entries: readonly StoredEntry[]): Told[] {
	const strikes = new Map(
		entries.flatMap(({ entry }) =>
			entry.kind === "entry.struck" && typeof entry.data.entry === "string"
				? [[entry.data.entry, entry] as const]
				: [],
		),
	);
	return [...entries].sort(newestFirst).flatMap((stored) => {
		const words = noteWords(records, stored.entry);
		return words ? [{ stored, words, strike: strikes.get(stored.id) }] : [];
	});
}

/** One note; it can be crossed out and stays readable. */
function Note({ stored, words, strike }: Told) {
	const desk = useDesk();
	const today = desk.today.value;
	const cross = () =>
		save(say("parts.saved.crossed-out"), () =>
			desk.verbs.strike(stored.id, say("parts.saved.reason")),
		);
	if (strike) {
		const day = dayLong(dayOf(strike.at), today);
		const reason = String(strike.data.reason ?? "");
		return <CrossedOut words={words.text} under={say("bench.story.crossed", { day, reason })} />;
	}
	return (
		<Row
			picture={words.picture}
			main={words.text}
			under={dayLong(dayOf(stored.entry.at), today)}
			right={<Way onPress={() => void cross()}>{say("parts.saved.cross-out")}</Way>}
		/>
	);
}

/** What was noted, newest first. */
export function Story({ entries }: { entries: readonly StoredEntry[] }) {
	const desk = useDesk();
	const [all, showAll] = useState(false);
	const told = tell(desk.records.value, entries);
	if (!told.length) return null;
	const shown = all ? told : told.slice(0, shownAtFirst);
	return (
		<>
			<Group word={say("bench.story")} />
			{shown.map((one) => (
				<Note key={one.stored.id} {...one} />
			))}
			{told.length > shown.length && (
				<div class="pad">
					<Way onPress={() => showAll(true)}>
						{say("bench.story.more", { n: told.length - shown.length })}
					</Way>
				</div>
			)}
		</>
	);
}
