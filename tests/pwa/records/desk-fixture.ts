// A core on the real vault (fake-indexeddb), a phone clock that stands where it is put, no network.

import "fake-indexeddb/auto";
import { kinds } from "../../../pwa/src/contract/kinds";
import { plans } from "../../../pwa/src/contract/plans";
import type { CarePlan } from "../../../pwa/src/kernel/plan";
import { Core } from "../../../pwa/src/records/core";
import type { Fix } from "../../../pwa/src/records/verb-inputs";
import type { Storage } from "../../../pwa/src/storage/storage";
import type { Account, Answer, Transport } from "../../../pwa/src/sync/ports";
import { fresh } from "../storage/fixtures";

const nothing: Answer<never> = { ok: false, status: null, code: null, body: null };

export interface PhoneFixture {
	core: Core;
	storage: Storage;
	name: string;
	/** ms */
	at(wall: number): void;
	fix(fix: Fix | null): void;
	later(fix: Fix | null): void;
	account: { [call: string]: (...given: never[]) => Promise<Answer<unknown>> };
	entries(
		record: string,
	): Promise<
		{ kind: string; data: object; about: string; also?: string[]; seen?: object; at: string }[]
	>;
}

let opened = 0;

// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one list of everything a core needs
export async function phone(name?: string): Promise<PhoneFixture> {
	const { storage, name: named } = await fresh(name);
	let wall = Date.parse("2026-05-02T10:00:00Z");
	let made = 0;
	opened++;
	let here: Fix | null = null;
	let soon: Fix | null = null;
	const account: PhoneFixture["account"] = {
		join: async () => nothing,
		me: async () => nothing,
		call: async () => nothing,
	};
	const core = new Core({
		store: storage.records,
		sync: storage.exchange,
		cache: storage.folds,
		transport: { exchange: async () => nothing } as unknown as Transport,
		account: account as unknown as Account,
		clock: { wall: () => wall, offsetMinutes: () => 120, zone: () => "Europe/Berlin" },
		ids: {
			uuid: () =>
				`01900000-0000-7000-8000-${named.replace(/\D/g, "").padStart(4, "0")}${String(opened).padStart(2, "0")}${String(made++).padStart(6, "0")}`,
			draw: (below) => (made++ * 7919) % below,
			node: () => "00000000000000a1",
		},
		timers: { after: () => () => undefined },
		lock: { hold: (_, work) => work() },
		shout: { tell: () => undefined, heard: () => () => undefined },
		rules: { kinds, version: "test", plan: plans.closed_box as unknown as CarePlan },
		visible: () => true,
		breathe: async () => undefined,
		position: () => here,
		laterPosition: async () => soon,
		deviceLabel: () => "test phone",
		origin: () => "https://ferns.example",
		afterSave: () => undefined,
		failed: (error) => {
			throw error;
		},
	});
	await core.start();
	return {
		core,
		storage,
		account,
		name: named,
		at: (ms) => {
			wall = ms;
		},
		fix: (fix) => {
			here = fix;
		},
		later: (fix) => {
			soon = fix;
		},
		entries: async (record) => (await core.entriesOf(record)).map(({ entry }) => entry),
	};
}

export async function claimed(name?: string): Promise<PhoneFixture> {
	const made = await phone(name);
	await made.core.verbs.claim({ name: "Marta Vell", initials: "MV" });
	return made;
}
