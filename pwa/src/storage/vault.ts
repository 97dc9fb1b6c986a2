// The vault: what must never be lost. Every transaction is strict (flushed before it completes).

import { Dexie, type EntityTable, type Table } from "dexie";
import type {
	Entry,
	EntryFault,
	EntryState,
	Id,
	Json,
	NumberState,
	OutlookRow,
	PhoneOwner,
	PhotoNamed,
	PhotoState,
	ServerSaid,
	Standing,
	StoredEntry,
} from "../sync/ports";

/** The service worker opens it by this name too. */
export const VAULT_NAME = "sporeline-vault";

export interface EntryRow {
	id: Id;
	/** The content, exactly as written or received; never changed afterwards. */
	entry: Entry;
	/** about and also. */
	refs: Id[];
	state: EntryState;
	/** Copy of entry.made: the outbox goes out in this order. */
	made: string;
	/** The change in which this row was last written. */
	n: number;
	/** Present while there is no seq and no refusal. */
	unsent?: 1;
	seq?: number;
	received?: number;
	errors?: EntryFault[];
	vouched?: boolean;
	via?: Id;
}

export interface PhotoRow extends PhotoNamed {
	thumb: ArrayBuffer | null;
	state: PhotoState;
	/** Wall ms when it was taken or fetched. */
	taken: number;
}

export interface ChunkRow {
	sha256: string;
	idx: number;
	/** ArrayBuffer, never a Blob: some browsers cannot store Blobs reliably. */
	bytes: ArrayBuffer;
}

export interface MetaValues {
	owner: PhoneOwner | null;
	/** Ids under which this phone asked to join before it had an owner. */
	applicant: { person: Id; device: Id };
	clock: string;
	n: number;
	standing: Standing;
	numbers: NumberState;
	server: ServerSaid;
	/** Endpoint and key of the web push subscription that the server was last told. */
	push: { endpoint: string; key: string } | null;
}

export interface MetaRow {
	key: keyof MetaValues;
	value: unknown;
}

export interface DraftRow {
	key: string;
	value: Json;
}

export class Vault extends Dexie {
	entries!: EntityTable<EntryRow, "id">;
	photos!: EntityTable<PhotoRow, "sha256">;
	chunks!: Table<ChunkRow, [string, number]>;
	meta!: EntityTable<MetaRow, "key">;
	drafts!: EntityTable<DraftRow, "key">;
	outlooks!: EntityTable<OutlookRow, "about">;
	/** Room to give up when the store is full, so that a note in words can still be saved. */
	ballast!: EntityTable<{ id: number; bytes: ArrayBuffer }, "id">;

	constructor(name = VAULT_NAME) {
		super(name, { chromeTransactionDurability: "strict" });
		// Upgrades only add: an older version of the app may still write to a newer store.
		this.version(1).stores({
			entries: "id, *refs, unsent, seq, state",
			photos: "sha256, state",
			chunks: "[sha256+idx]",
			meta: "key",
			drafts: "key",
			outlooks: "about",
		});
		this.version(2)
			.stores({ entries: "id, *refs, unsent, seq, state, n, [unsent+made]", ballast: "id" })
			.upgrade((transaction) =>
				transaction.table<EntryRow>("entries").toCollection().modify(fillVersion2),
			);
	}
}

function fillVersion2(row: EntryRow): void {
	row.made ??= row.entry.made;
	row.n ??= 0;
}

export function refsOf(entry: Entry): Id[] {
	return [...new Set([entry.about, ...(entry.also ?? [])])];
}

export function toStored(row: EntryRow, standing: Standing | undefined): StoredEntry {
	const checking = standing?.checking ?? null;
	return {
		id: row.id,
		entry: row.entry,
		state: row.state,
		seq: row.seq ?? null,
		received: row.received ?? null,
		errors: row.errors ?? [],
		vouched: row.vouched ?? false,
		via: row.via ?? null,
		checking: row.seq !== undefined && checking?.stage === "entries" && row.id > checking.after,
	};
}

/** One typed value beside the entries. */
export async function readMeta<K extends keyof MetaValues>(
	vault: Vault,
	key: K,
): Promise<MetaValues[K] | undefined> {
	return (await vault.meta.get(key))?.value as MetaValues[K] | undefined;
}

export async function writeMeta<K extends keyof MetaValues>(
	vault: Vault,
	key: K,
	value: MetaValues[K],
): Promise<void> {
	await vault.meta.put({ key, value });
}

/** Inside a writing transaction: the number of this change. */
export async function nextChange(vault: Vault): Promise<number> {
	const n = ((await readMeta(vault, "n")) ?? 0) + 1;
	await writeMeta(vault, "n", n);
	return n;
}
