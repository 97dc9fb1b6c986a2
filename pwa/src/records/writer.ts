// Makes entries and saves them: stamps, ids, times, `seen`, numbers and codes, in one strict transaction.

import { canonical } from "../kernel/canonical";
import { readStamp, tick } from "../kernel/clock";
import { drawCode } from "../kernel/code";
import { nextNumber, takeNumber } from "../sync/numbers";
import {
	type Clock,
	type Entry,
	type Id,
	type Ids,
	type Json,
	type NumberState,
	PhoneError,
	type PhoneOwner,
	type RecordStore,
	type ServerSaid,
	type StoredEntry,
} from "../sync/ports";
import { utf8Length } from "../sync/utf8";
import type { Folding } from "./folding";
import { atOf } from "./local-time";
import type { Rules } from "./rules";
import type { RecordIndex } from "./shelves";
import type { Saved, Series, When } from "./verb-inputs";

/** A second tap within this time is the same tap. */
const DOUBLE_TAP_MS = 400;
const MOST_BYTES = 16 * 1024;

/** An entry to be: undefined fields are left out, `seen` is filled in for descriptions. */
export interface Draft {
	/** Given where another entry of the same save names it. */
	id?: Id;
	kind: string;
	about: Id;
	also?: (Id | null | undefined)[];
	data: { [field: string]: Json | undefined };
	seen?: { [field: string]: Id[] };
	at?: string | undefined;
	span?: When["span"];
}

/** What a verb may ask for while its entries are made. */
export interface Making {
	/** A label: the one asked for, or the next of the series, which is then used up. */
	label(series: Series, wanted?: string): string;
	/** A code that nothing on this phone bears. */
	code(): string;
	id(): Id;
}

export interface Write {
	/** Runs inside the transaction: synchronous. */
	drafts(making: Making): Draft[];
	when?: When | undefined;
	made?: { [role: string]: Id };
	photos?: string[];
	owner?: PhoneOwner;
	replaces?: Id;
}

export interface WriterNeeds {
	store: RecordStore;
	folding: Folding;
	index: RecordIndex;
	rules: Rules;
	clock: Clock;
	ids: Ids;
	owner(): PhoneOwner | null;
	server(): ServerSaid | null;
	numbers(): NumberState;
	/** After a save: the person sees it, the exchange is asked for. */
	saved(entries: StoredEntry[]): Promise<void>;
}

export class Writer {
	private readonly taps = new Map<
		string,
		{ at: number; pending: boolean; saving: Promise<Saved> }
	>();

	constructor(readonly needs: WriterNeeds) {}

	/** The same tap twice is one save. `op`: verb and input. */
	once(op: unknown[], work: () => Promise<Saved>): Promise<Saved> {
		const key = canonical(JSON.parse(JSON.stringify(op)));
		const now = this.needs.clock.wall();
		for (const [old, { at, pending }] of this.taps)
			if (!pending && Math.abs(now - at) > DOUBLE_TAP_MS) this.taps.delete(old);
		const before = this.taps.get(key);
		if (before) return before.saving;
		const tap = { at: now, pending: true, saving: work() };
		this.taps.set(key, tap);
		const settle = () => {
			tap.pending = false;
		};
		tap.saving.then(settle, () => this.taps.delete(key));
		return tap.saving;
	}

	/** Resolves when the strict transaction is complete and the records are folded. */
	async write(write: Write): Promise<Saved> {
		const owner = write.owner ?? this.needs.owner();
		if (!owner) throw new PhoneError("unclaimed");
		const entries = await this.needs.store.save({
			make: (found) => this.make(write, owner, found),
			photos: write.photos ?? [],
			...(write.replaces ? { replaces: write.replaces } : {}),
		});
		await this.needs.folding.catchUp();
		await this.needs.saved(entries);
		return {
			made: write.made ?? {},
			ids: entries.map(({ id }) => id),
			undo: (reason) =>
				this.strikeAll(
					entries.map(({ entry }) => entry),
					reason,
				),
		};
	}

	/** The next label of a series, as it would be taken now. */
	nextLabel(series: Series, numbers = this.needs.numbers()): string {
		return nextNumber(numbers, this.seriesText(series), (label) =>
			this.needs.index.knowsLabel(label),
		);
	}

	strikeAll(entries: Entry[], reason: string): Promise<Saved> {
		const drafts = () => entries.map((entry) => strikeOf(entry, reason));
		return this.once(["strike", entries.map(({ id }) => id)], () => this.write({ drafts }));
	}

	private make(
		write: Write,
		owner: PhoneOwner,
		found: { clock: string | null; numbers: NumberState },
	) {
		const state = { numbers: found.numbers };
		const drafts = write.drafts(this.making(state));
		let clock = found.clock
			? readStamp(found.clock)
			: { ms: 0, counter: 0, node: this.needs.ids.node() };
		let made = found.clock ?? "";
		const entries: Entry[] = [];
		for (const draft of drafts) {
			[clock, made] = tick(clock, this.needs.clock.wall());
			entries.push(this.entryOf(draft, write.when, owner, made, entries));
		}
		const owned = write.owner ? { owner: write.owner } : {};
		return { clock: made, numbers: state.numbers, entries, ...owned };
	}

	private making(state: { numbers: NumberState }): Making {
		const codes = new Set<string>();
		return {
			id: () => this.needs.ids.uuid(),
			label: (series, wanted) => {
				const label = wanted ?? this.nextLabel(series, state.numbers);
				state.numbers = takeNumber(state.numbers, this.seriesText(series), label);
				return label;
			},
			code: () => {
				for (;;) {
					const code = drawCode((below) => this.needs.ids.draw(below));
					if (this.needs.index.knowsCode(code) || codes.has(code)) continue;
					codes.add(code);
					return code;
				}
			},
		};
	}

	private entryOf(
		draft: Draft,
		when: When | undefined,
		owner: PhoneOwner,
		made: string,
		before: Entry[],
	): Entry {
		const view = this.needs.rules.kinds[draft.kind];
		const also = [...new Set(draft.also ?? [])].filter(
			(id) => typeof id === "string" && id !== draft.about,
		);
		const heads = this.headsOf(draft);
		const data = cleaned(draft.data, heads);
		const span = draft.span ?? when?.span;
		const entry: Entry = {
			id: draft.id ?? this.needs.ids.uuid(),
			kind: draft.kind,
			v: Math.max(1, ...(view?.v ?? [])),
			about: draft.about,
			...(also.length ? { also: also as Id[] } : {}),
			at: draft.at ?? when?.at ?? atOf(this.needs.clock, this.needs.server()),
			...(span ? { span } : {}),
			made,
			by: owner.person,
			device: owner.device,
			data,
			...(view?.nature === "description" ? { seen: seenOf(draft, data, heads, before) } : {}),
		};
		if (utf8Length(JSON.stringify(entry)) > MOST_BYTES) throw new PhoneError("too-large");
		return entry;
	}

	private headsOf({ about, kind }: Draft): { [field: string]: Id[] } {
		return this.needs.index.folds.get(about)?.record.heads[kind] ?? {};
	}

	private seriesText(series: Series): string {
		return series === "mine" ? (this.needs.owner()?.initials ?? "") : series;
	}
}

/** A strike stands beside what it strikes: same about, same also. */
export function strikeOf(entry: Entry, reason: string, instead?: Id): Draft {
	return {
		kind: "entry.struck",
		about: entry.about,
		...(entry.also ? { also: entry.also } : {}),
		data: { entry: entry.id, reason, instead },
	};
}

/** Per field, all that this phone sees open for it, or what the same save sets just before. */
function seenOf(
	draft: Draft,
	data: Entry["data"],
	heads: { [field: string]: Id[] },
	before: Entry[],
): { [field: string]: Id[] } {
	const same = before.filter(({ about, kind }) => about === draft.about && kind === draft.kind);
	const seen = Object.keys(data).map((field) => {
		const newer = same.filter((entry) => field in entry.data).at(-1);
		return [field, draft.seen?.[field] ?? (newer ? [newer.id] : (heads[field] ?? []))] as const;
	});
	return Object.fromEntries(seen);
}

/** An emptied line sets a field that was set to nothing; one that was never set is left out. */
function cleaned(data: Draft["data"], heads: { [field: string]: Id[] }): Entry["data"] {
	const kept: Entry["data"] = {};
	for (const [field, value] of Object.entries(data)) {
		if (value === undefined) continue;
		if (value !== "") kept[field] = value;
		else if (heads[field]) kept[field] = null;
	}
	return kept;
}
