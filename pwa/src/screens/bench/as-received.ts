import type { StoredEntry } from "../../records/desk";
import { useEntries } from "./story";

/** What was written on a packet that came, as its note tells; nothing where none was received. */
function writtenIn(entries: readonly StoredEntry[]): string | null {
	for (const { entry } of entries) {
		const { as_written: words } = entry.data;
		if (entry.kind === "packet.received" && typeof words === "string" && words) return words;
	}
	return null;
}

/** The words on the packets from which something without a name came. */
export function useAsWritten(packets: readonly string[]): string | null {
	return writtenIn(useEntries(packets));
}
