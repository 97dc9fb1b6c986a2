// Puts the desk together: storage, transport, clock, position, pictures; nothing is decided here.

import { type Signal, signal } from "@preact/signals";
import { type BrowserSafety, Core } from "../records/core";
import type { Desk } from "../records/desk";
import { openStorage, type Storage } from "../storage/storage";
import { Http } from "../transport/http";
import { Server } from "../transport/server";
import { breathe, clock, ids, lock, shoutThrough, timers } from "./machine";
import { onlyHereFile } from "./only-here-file";
import { Pictures } from "./pictures";
import { Position } from "./position";
import { Push } from "./push";
import { rules } from "./rules";
import { serverDesk } from "./server-desk";
import type { Updates } from "./update";

export interface OpenDesk {
	desk: Desk;
	core: Core;
	storage: Storage;
	push: Push;
	/** What only the browser knows for the safety corner. */
	browser(change: Partial<BrowserSafety>): void;
	/** Whether this server is a demo, whose calendar can be moved. */
	lookAtTime(): Promise<void>;
}

/** Throws PhoneError "storage-refused" or "storage-lost" where the browser keeps nothing. */
export async function openDesk(updates: Updates): Promise<OpenDesk> {
	const early: (() => void)[] = [];
	let told = (change: () => void): void => void early.push(change);
	const storage = await openStorage(timers, {
		newer: () => told(() => mark(core, { otherTabNewer: true })),
		heldByOther: () => undefined,
		full: () => told(() => mark(core, { storageFull: true })),
	});
	const server = new Server(new Http({ ticks: () => performance.now() }));
	const position = new Position((ms) => new Date(ms).toISOString());
	const core = coreOf(storage, server, position);
	told = (change) => change();
	for (const change of early) change();
	const push = new Push(server, storage.push);
	const demo: Signal<{ today: string } | null> = signal(null);
	const lookAtTime = async () => {
		const said = await server.call<{ clock: string; today: string }>("GET", "/time");
		if (said.ok) demo.value = said.value.clock === "demo" ? { today: said.value.today } : null;
	};
	const changed = async () => {
		await core.courier.now();
		if (demo.value) await lookAtTime();
	};
	const owner = () => core.owner.value;
	const pictures = new Pictures(storage.photos, server, owner, clock.wall);
	const desk: Desk = {
		...plain(core),
		demo,
		position: position.signal,
		watchPosition: () => position.start(),
		server: serverDesk({ account: server, push, owner, changed }),
		exportUnsent: () => onlyHereFile(storage, owner(), core.now()),
		takePhoto: (file) => pictures.take(file),
		photoUrl: (sha256, size) => pictures.url(sha256, size, core.photoNamed(sha256)),
		draft: storage.drafts,
		update: async (force = false) => {
			if (storage.drafts.dirty && !force) return false;
			await storage.drafts.flush();
			if (updates.waits) updates.apply();
			else location.reload();
			return true;
		},
	};
	return { desk, core, storage, push, browser: (change) => mark(core, change), lookAtTime };
}

function plain(core: Core) {
	const { state, me, safety, today, records, tasks, allTasks, outlooks, verbs } = core;
	return {
		...{ state, me, safety, today, records, tasks, allTasks, outlooks, verbs },
		now: () => core.now(),
		tasksOn: (day: string) => core.due(day, null),
		entriesOf: (record: string) => core.entriesOf(record),
		needsFixing: () => core.needsFixing(),
		unsentEntries: () => core.unsentEntries(),
		search: (text: string) => core.search(text),
		exchangeNow: () => core.courier.now(),
	};
}

function mark(core: Core, change: Partial<BrowserSafety>): void {
	core.browser.value = { ...core.browser.value, ...change };
}

function coreOf(storage: Storage, server: Server, position: Position): Core {
	let asked = false;
	const core = new Core({
		...{ clock, ids, timers, lock, rules, breathe },
		store: storage.records,
		sync: storage.exchange,
		cache: storage.folds,
		transport: server,
		account: server,
		shout: shoutThrough("sporeline"),
		visible: () => document.visibilityState === "visible",
		position: () => position.current(),
		laterPosition: () => position.later(),
		deviceLabel,
		origin: () => location.origin,
		afterSave() {
			if (asked) return;
			asked = true;
			void keepStorage(core, storage);
		},
		failed: (error) => console.error(error),
	});
	return core;
}

/** Asked after the first save of a start, when it is plain what it is for. */
async function keepStorage(core: Core, storage: Storage): Promise<void> {
	const persisted = (await navigator.storage?.persist?.().catch(() => false)) ?? false;
	mark(core, { persisted });
	await storage.fillBallast();
}

function deviceLabel(): string {
	const { userAgent } = navigator;
	const [machine = "phone"] = /iPhone|iPad|Android|Windows|Macintosh|Linux/.exec(userAgent) ?? [];
	return machine;
}
