/** The notes of a record as they are stored, read again whenever the records change. */
import { useEffect, useState } from "preact/hooks";
import { useDesk } from "../../parts/desk";
import type { StoredEntry } from "../../records/desk";

/** null until they have been read. */
export function useEntries(id: string): StoredEntry[] | null {
	const desk = useDesk();
	const [entries, read] = useState<StoredEntry[] | null>(null);
	const records = desk.records.value;
	useEffect(() => {
		let wanted = true;
		// Named, so that the notes are read again when an exchange or a verb has changed the records.
		if (records)
			desk.entriesOf(id).then((found) => {
				if (wanted) read(found);
			});
		return () => {
			wanted = false;
		};
	}, [desk, id, records]);
	return entries;
}
