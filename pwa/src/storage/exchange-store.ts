// The vault as the exchange sees it: outbox, verdicts, lines, cursor, and the check after a restore.

import { Dexie } from "dexie";
import type {
	Checking,
	ExchangeChange,
	Id,
	Line,
	NumberBlock,
	NumberState,
	PhoneOwner,
	PhotoNamed,
	PhotoState,
	Standing,
	Store,
	StoredEntry,
	Verdict,
} from "../sync/ports";
import type { Unit } from "./unit";
import {
	type EntryRow,
	nextChange,
	readMeta,
	refsOf,
	toStored,
	type Vault,
	writeMeta,
} from "./vault";

const NOWHERE: Standing = { cursor: null, high: null, checking: null };
const NO_NUMBERS: NumberState = { met: false, blocks: {}, last: {} };

/** What the server puts beside an entry; the rest of a line is the entry. */
const BESIDE = new Set(["seq", "received", "state", "vouched", "via", "errors", "again"]);

export class ExchangeStore implements Store {
	constructor(
		private readonly vault: Vault,
		private readonly unit: Unit,
	) {}

	standing(): Promise<Standing> {
		return this.unit.read(async () => (await readMeta(this.vault, "standing")) ?? NOWHERE);
	}

	owner(): Promise<PhoneOwner | null> {
		return this.unit.read(async () => (await readMeta(this.vault, "owner")) ?? null);
	}

	numbers(): Promise<NumberState> {
		return this.unit.read(async () => (await readMeta(this.vault, "numbers")) ?? NO_NUMBERS);
	}

	newestOutlook(): Promise<number> {
		return this.unit.read(async () => {
			const rows = await this.vault.outlooks.toArray();
			return rows.reduce((newest, { n }) => Math.max(newest, n), 0);
		});
	}

	outbox(limit: number, skip: ReadonlySet<Id>): Promise<StoredEntry[]> {
		return this.unit.read(async () => {
			const waiting = this.unsentRows().filter((row) => !skip.has(row.id));
			return (await waiting.limit(limit).toArray()).map((row) => toStored(row, undefined));
		});
	}

	unsent(): Promise<{ count: number; oldestMade: string | null }> {
		return this.unit.read(async () => {
			const count = await this.vault.entries.where("unsent").equals(1).count();
			const oldest = count ? await this.unsentRows().first() : undefined;
			return { count, oldestMade: oldest?.made ?? null };
		});
	}

	applyExchange(change: ExchangeChange): Promise<Id[]> {
		const { entries, meta, outlooks } = this.vault;
		return this.unit.write([entries, meta, outlooks], async () => {
			const rows = await this.changedRows(change);
			const n = await nextChange(this.vault);
			await entries.bulkPut(rows.map((row) => ({ ...row, n })));
			await this.keepOutlooks(change);
			await this.keepPlace(change);
			return [...new Set(rows.flatMap((row) => row.refs))];
		});
	}

	beginChecking(): Promise<void> {
		const checking: Checking = { epoch: null, stage: "entries", after: "" };
		return this.unit.write([this.vault.meta], () =>
			writeMeta(this.vault, "standing", { cursor: null, high: null, checking }),
		);
	}

	idsToCheck(after: string, limit: number): Promise<Id[]> {
		return this.unit.read(async () => {
			const rows = this.vault.entries.where("id").above(after);
			return (
				await rows
					.filter((row) => row.seq !== undefined)
					.limit(limit)
					.toArray()
			).map((row) => row.id);
		});
	}

	photosToCheck(after: string, limit: number): Promise<string[]> {
		return this.unit.read(async () => {
			const rows = this.vault.photos.where("sha256").above(after);
			const sent = rows.filter((row) => row.state === "server" || row.state === "uploading");
			return (await sent.limit(limit).toArray()).map((row) => row.sha256);
		});
	}

	settleChecked(lacks: Id[], lacksPhotos: string[], next: Checking): Promise<Id[]> {
		const { entries, meta, photos } = this.vault;
		return this.unit.write([entries, meta, photos], async () => {
			const n = await nextChange(this.vault);
			const rows = (await entries.bulkGet(lacks)).filter((row) => row !== undefined);
			await entries.bulkPut(rows.map((row) => asUnsent(row, n)));
			await photos.where("sha256").anyOf(lacksPhotos).modify({ state: "here" });
			const standing = (await readMeta(this.vault, "standing")) ?? NOWHERE;
			await writeMeta(this.vault, "standing", { ...standing, checking: next });
			return [...new Set(rows.flatMap((row) => row.refs))];
		});
	}

	waitingPhotos(): Promise<PhotoNamed[]> {
		return this.unit.read(async () => {
			const rows = await this.vault.photos.where("state").anyOf("here", "uploading").toArray();
			rows.sort((a, b) => a.taken - b.taken);
			return rows.map(({ sha256, bytes, type, w, h }) => ({ sha256, bytes, type, w, h }));
		});
	}

	photoPiece(sha256: string, offset: number): Promise<ArrayBuffer | null> {
		return this.unit.read(async () => {
			let start = 0;
			for (const chunk of await this.chunksOf(sha256)) {
				const end = start + chunk.bytes.byteLength;
				if (offset < end) return chunk.bytes.slice(offset - start);
				start = end;
			}
			return null;
		});
	}

	setPhotoState(sha256: string, state: PhotoState): Promise<void> {
		return this.unit.write([this.vault.photos], async () => {
			await this.vault.photos.update(sha256, { state });
		});
	}

	private chunksOf(sha256: string) {
		return this.vault.chunks
			.where("[sha256+idx]")
			.between([sha256, Dexie.minKey], [sha256, Dexie.maxKey])
			.toArray();
	}

	private unsentRows() {
		return this.vault.entries.where("[unsent+made]").between([1, Dexie.minKey], [1, Dexie.maxKey]);
	}

	/** Verdicts, then refusals, then lines, laid over the rows that are here; untouched ones stay out. */
	private async changedRows(change: ExchangeChange): Promise<EntryRow[]> {
		const { verdicts, refused, lines } = change;
		const ids = [...verdicts, ...refused, ...lines].map((said) => said.id);
		const here = (await this.vault.entries.bulkGet(ids)).filter((row) => row !== undefined);
		const rows = new Map(here.map((row) => [row.id, row]));
		const changed = new Map<Id, EntryRow>();
		const put = (id: Id, row: EntryRow | undefined) => {
			if (!row) return;
			rows.set(id, row);
			changed.set(id, row);
		};
		for (const said of verdicts) put(said.id, afterVerdict(rows.get(said.id), said));
		for (const { id, error } of refused) {
			const row = rows.get(id);
			if (row && row.seq === undefined)
				put(id, { ...unmarked(row), state: "refused", errors: [error] });
		}
		for (const line of lines) put(line.id, afterLine(rows.get(line.id), line));
		return [...changed.values()];
	}

	private async keepOutlooks(change: ExchangeChange): Promise<void> {
		const known = await this.vault.outlooks.bulkGet(change.outlooks.map((row) => row.about));
		const newer = change.outlooks.filter((row, i) => (known[i]?.n ?? -1) <= row.n);
		await this.vault.outlooks.bulkPut(newer);
	}

	private async keepPlace({ cursor, high, server, numbers, moveClock }: ExchangeChange) {
		await writeMeta(this.vault, "standing", { cursor, high, checking: null });
		await writeMeta(this.vault, "server", server);
		if (numbers.length) {
			const state = (await readMeta(this.vault, "numbers")) ?? NO_NUMBERS;
			await writeMeta(this.vault, "numbers", { ...state, met: true, blocks: bySeries(numbers) });
		}
		const before = (await readMeta(this.vault, "clock")) ?? null;
		const moved = moveClock(before);
		if (moved !== null && moved !== before) await writeMeta(this.vault, "clock", moved);
	}
}

function unmarked(row: EntryRow): EntryRow {
	const { unsent: _unsent, ...rest } = row;
	return rest;
}

function asUnsent(row: EntryRow, n: number): EntryRow {
	const { seq: _seq, errors: _errors, ...rest } = row;
	return { ...rest, state: "unsent", unsent: 1, n };
}

function afterVerdict(row: EntryRow | undefined, said: Verdict): EntryRow | undefined {
	if (!row) return undefined;
	const { seq, state, received, errors } = said;
	return { ...unmarked(row), seq, state, received, errors: errors ?? [] };
}

/** A line the phone has already: only what the server says of it is new. */
function afterLine(row: EntryRow | undefined, line: Line): EntryRow | undefined {
	const { seq, state, received, vouched, via, errors } = line;
	const entry = Object.fromEntries(
		Object.entries(line).filter(([key]) => !BESIDE.has(key)),
	) as Line;
	// Our own unsent words under the same id, but different: the push will tell; never written over.
	if (row && row.seq === undefined && !same(row.entry, entry)) return undefined;
	const kept = row
		? unmarked(row)
		: { id: line.id, entry, refs: refsOf(entry), made: entry.made, n: 0 };
	return {
		...kept,
		seq,
		state,
		received,
		vouched: vouched ?? false,
		...(via ? { via } : {}),
		errors: errors ?? [],
	};
}

/** Equal as parsed JSON, whatever the order of keys. */
function same(a: unknown, b: unknown): boolean {
	if (a === b) return true;
	if (typeof a !== "object" || typeof b !== "object" || !a || !b) return false;
	if (Array.isArray(a) !== Array.isArray(b)) return false;
	const [left, right] = [Object.entries(a), new Map(Object.entries(b))];
	return (
		left.length === right.size && left.every(([k, v]) => right.has(k) && same(v, right.get(k)))
	);
}

function bySeries(blocks: NumberBlock[]): NumberState["blocks"] {
	const by: NumberState["blocks"] = {};
	for (const { series, from, to } of blocks) {
		by[series] ??= [];
		by[series].push({ from, to });
	}
	return by;
}
