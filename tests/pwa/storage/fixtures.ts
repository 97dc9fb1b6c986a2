import { openStorage, type Storage } from "../../../pwa/src/storage/storage";
import type { Entry, Timers } from "../../../pwa/src/sync/ports";

export const timers: Timers = {
	after(ms, work) {
		const handle = setTimeout(work, Math.min(ms, 1));
		return () => clearTimeout(handle);
	},
};

let made = 0;

/** A fresh pair of databases; `told` gathers the events. */
export async function fresh(
	name = `t${made++}`,
): Promise<{ storage: Storage; told: string[]; name: string }> {
	const told: string[] = [];
	const tell = (what: string) => () => void told.push(what);
	const events = { newer: tell("newer"), heldByOther: tell("held"), full: tell("full") };
	const storage = await openStorage(timers, events, { vault: `${name}-v`, cache: `${name}-c` });
	return { storage, told, name };
}

export function entry(id: string, about = "R", more: Partial<Entry> = {}): Entry {
	return {
		id,
		kind: "sori.seen",
		v: 1,
		about,
		at: "2026-05-02",
		made: `019de9d8e900-${id.padStart(8, "0")}-00000000000000a1`,
		data: { ripeness: "ripe" },
		...more,
	};
}

export function saving(...entries: Entry[]) {
	return { make: () => ({ clock: entries.at(-1)?.made ?? "", entries }) };
}
