// The cache: folded records for a quick start. Derived, relaxed, may be thrown away at any time.

import { Dexie, type EntityTable } from "dexie";
import type { FoldCache, KeptFold } from "../sync/ports";
import type { Unit } from "./unit";

export class CacheDb extends Dexie {
	folds!: EntityTable<KeptFold, "id">;
	meta!: EntityTable<{ key: string; rules: string; change: number }, "key">;

	constructor(name = "sporeline-cache") {
		super(name, { chromeTransactionDurability: "relaxed" });
		this.version(1).stores({ folds: "id", meta: "key" });
	}
}

export class CachedFolds implements FoldCache {
	constructor(
		private readonly db: CacheDb,
		private readonly unit: Unit,
	) {}

	async read(rules: string): Promise<{ change: number; folds: KeptFold[] } | null> {
		return this.unit.read(async () => {
			const upto = await this.db.meta.get("upto");
			if (upto?.rules !== rules) return null;
			return { change: upto.change, folds: await this.db.folds.toArray() };
		});
	}

	/** `change`: the vault's change number up to which all of the records here are folded. */
	async write(rules: string, change: number, folds: KeptFold[], whole: boolean): Promise<void> {
		await this.unit.write([this.db.folds, this.db.meta], async () => {
			if (whole) await this.db.folds.clear();
			await this.db.folds.bulkPut(folds);
			await this.db.meta.put({ key: "upto", rules, change });
		});
	}
}
