// The vault as verbs and shelves see it: one strict transaction per verb, entries by record.

import { Dexie } from "dexie";
import type {
	Counts,
	Entry,
	Id,
	NumberState,
	OutlookRow,
	PhoneOwner,
	RecordStore,
	SaveWork,
	ServerSaid,
	Standing,
	StoredEntry,
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

const NO_NUMBERS: NumberState = { met: false, blocks: {}, last: {} };
/** Records asked for in one query. */
const AT_ONCE = 200;

export class VaultRecords implements RecordStore {
	constructor(
		private readonly vault: Vault,
		private readonly unit: Unit,
	) {}

	owner(): Promise<PhoneOwner | null> {
		return this.unit.read(async () => (await readMeta(this.vault, "owner")) ?? null);
	}

	setOwner(owner: PhoneOwner | null): Promise<void> {
		return this.unit.write([this.vault.meta], () => writeMeta(this.vault, "owner", owner));
	}

	applicant(ids: { person: Id; device: Id }): Promise<{ person: Id; device: Id }> {
		return this.unit.write([this.vault.meta], async () => {
			const before = await readMeta(this.vault, "applicant");
			if (!before) await writeMeta(this.vault, "applicant", ids);
			return before ?? ids;
		});
	}

	numbers(): Promise<NumberState> {
		return this.unit.read(async () => (await readMeta(this.vault, "numbers")) ?? NO_NUMBERS);
	}

	server(): Promise<ServerSaid | null> {
		return this.unit.read(async () => (await readMeta(this.vault, "server")) ?? null);
	}

	outlooks(): Promise<OutlookRow[]> {
		return this.unit.read(() => this.vault.outlooks.toArray());
	}

	save(work: SaveWork): Promise<StoredEntry[]> {
		const { entries, meta, photos, drafts } = this.vault;
		return this.unit.write([entries, meta, photos, drafts], async () => {
			const clock = (await readMeta(this.vault, "clock")) ?? null;
			const numbers = (await readMeta(this.vault, "numbers")) ?? NO_NUMBERS;
			const made = work.make({ clock, numbers });
			const n = await nextChange(this.vault);
			const rows = made.entries.map((entry) => asRow(entry, n));
			await writeMeta(this.vault, "clock", made.clock);
			if (made.numbers) await writeMeta(this.vault, "numbers", made.numbers);
			if (made.owner) await writeMeta(this.vault, "owner", made.owner);
			await entries.bulkAdd(rows);
			await this.claimPhotos(work.photos ?? []);
			if (work.dropDraft) await drafts.delete(work.dropDraft);
			if (work.replaces) await this.replace(work.replaces, n);
			return rows.map((row) => toStored(row, undefined));
		});
	}

	entries(ids: Id[]): Promise<StoredEntry[]> {
		return this.unit.read(async () => this.asStored(await this.vault.entries.bulkGet(ids)));
	}

	entriesOf(records: Id[]): Promise<Map<Id, StoredEntry[]>> {
		return this.unit.read(async () => {
			const of = new Map<Id, StoredEntry[]>(records.map((id) => [id, []]));
			for (let i = 0; i < records.length; i += AT_ONCE) {
				const asked = records.slice(i, i + AT_ONCE);
				const rows = await this.vault.entries.where("refs").anyOf(asked).distinct().toArray();
				for (const found of await this.asStored(rows))
					for (const ref of refsOf(found.entry)) of.get(ref)?.push(found);
			}
			return of;
		});
	}

	recordIds(): Promise<Id[]> {
		return this.unit.read(
			async () => (await this.vault.entries.orderBy("refs").uniqueKeys()) as Id[],
		);
	}

	changesSince(change: number): Promise<{ upto: number; records: Id[] }> {
		return this.unit.read(async () => {
			const upto = (await readMeta(this.vault, "n")) ?? 0;
			const rows = await this.vault.entries.where("n").above(change).toArray();
			return { upto, records: [...new Set(rows.flatMap((row) => row.refs))] };
		});
	}

	unsentEntries(): Promise<StoredEntry[]> {
		return this.unit.read(async () => {
			const rows = this.vault.entries
				.where("[unsent+made]")
				.between([1, Dexie.minKey], [1, Dexie.maxKey]);
			return this.asStored(await rows.toArray());
		});
	}

	attention(): Promise<StoredEntry[]> {
		return this.unit.read(async () => {
			const rows = await this.vault.entries.where("state").anyOf("held", "refused").toArray();
			return this.asStored(rows);
		});
	}

	counts(): Promise<Counts> {
		return this.unit.read(async () => {
			const { entries, photos } = this.vault;
			const standing = await readMeta(this.vault, "standing");
			const unsent = await entries.where("unsent").equals(1).count();
			const oldest = unsent ? (await this.unsentRows().first())?.made : undefined;
			return {
				unsent,
				oldestMade: oldest ?? null,
				onServer: await entries.where("seq").aboveOrEqual(0).count(),
				backedUp: await this.backedUp(standing),
				checking: await this.checking(standing),
				refused: await entries.where("state").equals("refused").count(),
				photosHere: await photos.where("state").anyOf("here", "uploading").count(),
			};
		});
	}

	offerAll(owner: PhoneOwner): Promise<void> {
		const { entries, meta, photos, outlooks } = this.vault;
		return this.unit.write([entries, meta, photos, outlooks], async () => {
			const n = await nextChange(this.vault);
			await entries.toCollection().modify((row) => void offered(row, n));
			await photos.where("state").equals("server").modify({ state: "here" });
			await outlooks.clear();
			await writeMeta(this.vault, "owner", owner);
			await writeMeta(this.vault, "standing", { cursor: null, high: null, checking: null });
		});
	}

	private async asStored(rows: (EntryRow | undefined)[]): Promise<StoredEntry[]> {
		const standing = await readMeta(this.vault, "standing");
		return rows.flatMap((row) => (row ? [toStored(row, standing)] : []));
	}

	private unsentRows() {
		return this.vault.entries.where("[unsent+made]").between([1, Dexie.minKey], [1, Dexie.maxKey]);
	}

	/** The watermark counts only in the history that the phone stands in. */
	private async backedUp(standing: Standing | undefined): Promise<number> {
		const mark = (await readMeta(this.vault, "server"))?.backedUp;
		if (!mark || standing?.cursor?.epoch !== mark.epoch) return 0;
		return this.vault.entries.where("seq").belowOrEqual(mark.seq).count();
	}

	private async checking(standing: Standing | undefined): Promise<number> {
		if (standing?.checking?.stage !== "entries") return 0;
		const rows = this.vault.entries.where("id").above(standing.checking.after);
		return rows.filter((row) => row.seq !== undefined).count();
	}

	private async replace(id: Id, n: number): Promise<void> {
		const row = await this.vault.entries.get(id);
		if (row?.state === "refused") await this.vault.entries.put({ ...row, state: "replaced", n });
	}

	private async claimPhotos(hashes: string[]): Promise<void> {
		for (const sha256 of hashes) {
			const row = await this.vault.photos.get(sha256);
			if (row?.state === "draft") await this.vault.photos.update(sha256, { state: "here" });
		}
	}
}

function asRow(entry: Entry, n: number): EntryRow {
	const { id, made } = entry;
	return { id, entry, refs: refsOf(entry), state: "unsent", made, n, unsent: 1 };
}

/** Another server may take what the last one refused; what was written again stays put by. */
function offered(row: EntryRow, n: number): void {
	if (row.state === "replaced") return;
	delete row.seq;
	delete row.errors;
	row.state = "unsent";
	row.unsent = 1;
	row.n = n;
}
