/** From whom packets came before: the first answers to "from whom?". */
import { useEffect, useState } from "preact/hooks";
import { useDesk } from "../../parts/desk";
import type { Desk, FoldedRecord } from "../../records/desk";

export interface Giver {
	from: string;
	/** When the last packet came from there. */
	at: string;
}

/** As many packets are read back: enough for the people one swaps with. */
const readBack = 20;

const cameAt = (packet: FoldedRecord) => packet.last["packet.received"]?.at ?? "";

/** Everyone from whom one of the last packets came, the last first, each once. */
export async function lastGivers(desk: Desk, most: number): Promise<Giver[]> {
	const packets = desk.records
		.peek()
		.ofType("packet")
		.filter((packet) => cameAt(packet))
		.sort((a, b) => (cameAt(a) < cameAt(b) ? 1 : -1))
		.slice(0, readBack);
	const once = new Map<string, Giver>();
	for (const packet of packets)
		for (const { id, entry } of await desk.entriesOf(packet.id)) {
			const { from } = entry.data;
			const stands = packet.facts.includes(id) && entry.kind === "packet.received";
			if (stands && typeof from === "string" && !once.has(from))
				once.set(from, { from, at: entry.at });
		}
	return [...once.values()].slice(0, most);
}

export function useGivers(most: number): Giver[] {
	const desk = useDesk();
	const [givers, found] = useState<Giver[]>([]);
	useEffect(() => {
		let wanted = true;
		lastGivers(desk, most).then((all) => {
			if (wanted) found(all);
		});
		return () => {
			wanted = false;
		};
	}, [desk, most]);
	return givers;
}
