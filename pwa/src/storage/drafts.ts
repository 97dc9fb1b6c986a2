// Forms that are not saved yet: written through, so that a killed tab loses at most half a second.

import type { Json, Timers } from "../sync/ports";
import type { Unit } from "./unit";
import type { Vault } from "./vault";

const WRITE_AFTER_MS = 300;

export class Drafts {
	/** What is newer here than in the store; stays here if the store is full. */
	private readonly waiting = new Map<string, Json | undefined>();
	private readonly open = new Set<string>();
	private cancel: (() => void) | null = null;

	constructor(
		private readonly vault: Vault,
		private readonly unit: Unit,
		private readonly timers: Timers,
	) {}

	async load(key: string): Promise<unknown> {
		if (this.waiting.has(key)) return this.waiting.get(key);
		return this.unit.read(async () => (await this.vault.drafts.get(key))?.value);
	}

	keep(key: string, value: Json): void {
		this.open.add(key);
		this.waiting.set(key, value);
		this.cancel ??= this.timers.after(WRITE_AFTER_MS, () => void this.flush());
	}

	drop(key: string): void {
		this.open.delete(key);
		this.waiting.set(key, undefined);
		this.cancel ??= this.timers.after(0, () => void this.flush());
	}

	/** A form is being filled in on this page. */
	get dirty(): boolean {
		return this.open.size > 0;
	}

	/** Also called when the page is hidden. A failure keeps everything here, for the next time. */
	async flush(): Promise<void> {
		this.cancel?.();
		this.cancel = null;
		const now = new Map(this.waiting);
		if (!now.size) return;
		try {
			await this.unit.write([this.vault.drafts], () => this.writeAll(now));
		} catch {
			return;
		}
		for (const [key, value] of now) if (this.waiting.get(key) === value) this.waiting.delete(key);
	}

	private async writeAll(drafts: Map<string, Json | undefined>): Promise<void> {
		for (const [key, value] of drafts) {
			if (value === undefined) await this.vault.drafts.delete(key);
			else await this.vault.drafts.put({ key, value });
		}
	}
}
