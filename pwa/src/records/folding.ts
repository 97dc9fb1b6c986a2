// Keeps the folded records in memory up to date with the vault: at the start from the cache, then by
// every change, whether a verb, an exchange or another tab made it.

import { fold } from "../kernel/fold";
import type { FoldEntry, Kinds } from "../kernel/record";
import type { FoldCache, Id, KeptFold, RecordStore, StoredEntry } from "../sync/ports";
import type { RecordIndex } from "./shelves";
import { sideOf } from "./side";

/** Records folded between two breaths, so that the screen stays quick. */
const AT_ONCE = 100;

export interface FoldingNeeds {
	store: RecordStore;
	cache: FoldCache;
	index: RecordIndex;
	kinds: Kinds;
	/** Changes whenever the fold could come out differently: then all is folded again. */
	rules: string;
	/** Lets the screen be drawn. */
	breathe(): Promise<void>;
	/** The index has changed. */
	changed(): void;
}

export class Folding {
	/** The vault's change up to which everything is folded. */
	private upto = -1;
	private running: Promise<void> = Promise.resolve();

	constructor(private readonly needs: FoldingNeeds) {}

	/** Reads what was folded before; folds all only when there is nothing that fits. */
	async start(): Promise<void> {
		const { cache, index, rules } = this.needs;
		const kept = await cache.read(rules).catch(() => null);
		for (const each of kept?.folds ?? []) index.put(each);
		this.upto = kept?.change ?? -1;
		await this.catchUp();
	}

	/** Folds every record touched since the last time; one at a time, in the order asked. */
	catchUp(): Promise<void> {
		const next = this.running.then(() => this.foldChanges());
		this.running = next.catch(() => undefined);
		return next;
	}

	private async foldChanges(): Promise<void> {
		const { store, index, changed } = this.needs;
		const whole = this.upto < 0;
		const { upto, records } = whole
			? {
					upto: (await store.changesSince(Number.MAX_SAFE_INTEGER)).upto,
					records: await store.recordIds(),
				}
			: await store.changesSince(this.upto);
		if (upto === this.upto) return;
		const folds: KeptFold[] = [];
		for (let i = 0; i < records.length; i += AT_ONCE) {
			if (i > 0) await this.needs.breathe();
			folds.push(...(await this.foldSome(records.slice(i, i + AT_ONCE))));
		}
		for (const each of folds) index.put(each);
		this.upto = upto;
		changed();
		await this.keep(folds, whole);
	}

	private async foldSome(records: Id[]): Promise<KeptFold[]> {
		const entries = await this.needs.store.entriesOf(records);
		return records.map((id) => foldOne(id, entries.get(id) ?? [], this.needs.kinds));
	}

	/** The cache only saves time: what it cannot keep is folded at the next start. */
	private async keep(folds: KeptFold[], whole: boolean): Promise<void> {
		await this.needs.cache.write(this.needs.rules, this.upto, folds, whole).catch(() => undefined);
	}
}

/** What the server refused is nowhere but here, so it counts nowhere. */
function foldOne(id: Id, stored: StoredEntry[], kinds: Kinds): KeptFold {
	const counted = stored.filter(({ state }) => state !== "refused" && state !== "replaced");
	const record = fold(id, counted.map(asFolded), kinds);
	return { id, record, side: sideOf(record, counted) };
}

function asFolded({ entry, state, received }: StoredEntry): FoldEntry {
	return { ...entry, state, received } as FoldEntry;
}
