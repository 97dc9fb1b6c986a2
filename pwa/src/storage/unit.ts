// A unit of work on a database: run again when the browser loses the connection, named errors otherwise.

import type { Dexie, Table } from "dexie";
import { PhoneError, type Timers } from "../sync/ports";

const LOST = new Set(["UnknownError", "DatabaseClosedError", "InvalidStateError", "AbortError"]);
const REFUSED = new Set(["SecurityError", "MissingAPIError", "OpenFailedError", "NotAllowedError"]);
const FULL = new Set(["QuotaExceededError"]);
const REOPENINGS = 3;

type Failure = "full" | "lost" | "refused" | "other";

/** Names of an error and of what it wraps (Dexie puts the browser's own error into `inner`). */
function namesOf(error: unknown, depth = 0): string[] {
	if (!error || typeof error !== "object" || depth > 3) return [];
	const { name, inner, failures } = error as {
		name?: string;
		inner?: unknown;
		failures?: unknown[];
	};
	return [
		name ?? "",
		...namesOf(inner, depth + 1),
		...(failures ?? []).flatMap((f) => namesOf(f, depth + 1)),
	];
}

export function failureOf(error: unknown): Failure {
	const names = namesOf(error);
	const any = (set: Set<string>) => names.some((name) => set.has(name));
	if (any(FULL)) return "full";
	if (any(REFUSED)) return "refused";
	return any(LOST) ? "lost" : "other";
}

function pause(timers: Timers, ms: number): Promise<void> {
	return new Promise((resolve) => {
		timers.after(ms, resolve);
	});
}

export interface UnitEvents {
	/** A newer version of the app wants the store, or has it already: this page should reload. */
	newer(): void;
	/** Another tab with an older version holds the store open. */
	heldByOther(): void;
}

export class Unit {
	private shut = false;

	constructor(
		private readonly db: Dexie,
		private readonly timers: Timers,
		/** Gives room up; true when there was some. */
		private readonly giveRoom: () => Promise<boolean> = async () => false,
	) {}

	async open(events: UnitEvents): Promise<void> {
		this.db.on("versionchange", () => {
			this.shut = true;
			this.db.close();
			events.newer();
		});
		this.db.on("blocked", () => events.heldByOther());
		await this.again(async () => void (await this.db.open()));
		// Dexie opens a store that is newer than the code as it is; upgrades only add, so writing stays safe.
		if (this.db.backendDB().version > this.db.verno * 10) events.newer();
	}

	read<T>(work: () => Promise<T>): Promise<T> {
		return this.again(work);
	}

	/** Resolves when the transaction is complete: the data is on the medium. */
	write<T>(tables: Table[], work: () => Promise<T>): Promise<T> {
		return this.again(() => this.db.transaction("rw", tables, work));
	}

	/** The whole unit runs again: nothing of a failed transaction stays. */
	private async again<T>(work: () => Promise<T>): Promise<T> {
		for (let reopenings = 0; ; ) {
			if (this.shut) throw new PhoneError("app-too-old");
			try {
				return await work();
			} catch (error) {
				const failure = failureOf(error);
				if (failure === "lost" && reopenings < REOPENINGS) await this.reopen(reopenings++);
				else if (failure !== "full" || !(await this.giveRoom())) throw named(error, failure);
			}
		}
	}

	private async reopen(before: number): Promise<void> {
		this.db.close({ disableAutoOpen: false });
		await pause(this.timers, 50 * 4 ** before);
	}
}

const CODES = { full: "storage-full", lost: "storage-lost", refused: "storage-refused" } as const;

function named(error: unknown, failure: Failure): unknown {
	if (failure === "other" || error instanceof PhoneError) return error;
	return new PhoneError(CODES[failure], { cause: error });
}
