// Opens both databases and hands out what plugs into the ports.

import { PhoneError, type Timers } from "../sync/ports";
import { CacheDb, CachedFolds } from "./cache";
import { Drafts } from "./drafts";
import { ExchangeStore } from "./exchange-store";
import { PhotoStore } from "./photo-store";
import { VaultRecords } from "./record-store";
import { Unit, type UnitEvents } from "./unit";
import { type MetaValues, readMeta, Vault, writeMeta } from "./vault";

const BALLAST_BYTES = 4 * 1024 * 1024;

export interface StorageEvents extends UnitEvents {
	/** The store is full; the ballast is given up. */
	full(): void;
}

export interface Storage {
	exchange: ExchangeStore;
	records: VaultRecords;
	photos: PhotoStore;
	drafts: Drafts;
	folds: CachedFolds;
	push: { read(): Promise<MetaValues["push"]>; write(push: MetaValues["push"]): Promise<void> };
	/** Lays the ballast in again, when there is room. */
	fillBallast(): Promise<void>;
	close(): void;
}

/** Throws PhoneError "storage-refused" or "storage-lost" when the browser gives no store. */
export async function openStorage(
	timers: Timers,
	events: StorageEvents,
	names: { vault?: string; cache?: string } = {},
): Promise<Storage> {
	const vault = new Vault(names.vault);
	const cache = new CacheDb(names.cache);
	const unit = new Unit(vault, timers, () => giveBallast(vault, events));
	const cacheUnit = new Unit(cache, timers);
	try {
		await unit.open(events);
	} catch (error) {
		if (error instanceof PhoneError) throw error;
		throw new PhoneError("storage-refused", { cause: error });
	}
	await cacheUnit.open({ newer: () => undefined, heldByOther: () => undefined });
	return {
		exchange: new ExchangeStore(vault, unit),
		records: new VaultRecords(vault, unit),
		photos: new PhotoStore(vault, unit),
		drafts: new Drafts(vault, unit, timers),
		folds: new CachedFolds(cache, cacheUnit),
		push: {
			read: () => unit.read(async () => (await readMeta(vault, "push")) ?? null),
			write: (push) => unit.write([vault.meta], () => writeMeta(vault, "push", push)),
		},
		fillBallast: () => fillBallast(vault),
		close: () => {
			vault.close();
			cache.close();
		},
	};
}

async function giveBallast(vault: Vault, events: StorageEvents): Promise<boolean> {
	events.full();
	const there = (await vault.ballast.count()) > 0;
	if (there) await vault.ballast.clear();
	return there;
}

async function fillBallast(vault: Vault): Promise<void> {
	if ((await vault.ballast.count()) > 0) return;
	try {
		await vault.ballast.put({ id: 1, bytes: new ArrayBuffer(BALLAST_BYTES) });
	} catch {
		// No room for it now: the next start tries again.
	}
}
