import "fake-indexeddb/auto";
import { Dexie } from "dexie";
import { expect, test } from "vitest";
import { Vault } from "../../../pwa/src/storage/vault";
import { entry, fresh, saving } from "./fixtures";

test("one transaction holds entry, clock, numbers and photo, or none of them", async () => {
	const { storage } = await fresh();
	const photo = { sha256: "aa", bytes: 3, type: "image/jpeg", w: 1, h: 1 };
	await storage.photos.keepDraft(photo, new Uint8Array([1, 2, 3]).buffer, null, 5);
	await storage.records.save(saving(entry("1")));
	const twice = {
		make: () => ({
			clock: "later",
			numbers: { met: false, blocks: {}, last: { box: { n: 9, letters: 0 } } },
			entries: [entry("2"), entry("1")],
		}),
		photos: ["aa"],
	};
	await expect(storage.records.save(twice)).rejects.toThrow();
	expect(await storage.records.recordIds()).toEqual(["R"]);
	expect((await storage.exchange.outbox(10, new Set())).map((e) => e.id)).toEqual(["1"]);
	expect((await storage.records.numbers()).last).toEqual({});
	expect(await storage.exchange.waitingPhotos()).toEqual([]);
	await storage.records.save({ ...saving(entry("2")), photos: ["aa"] });
	expect(await storage.exchange.waitingPhotos()).toEqual([photo]);
});

test("a store of the first version is brought up with everything in it", async () => {
	const old = new Dexie("older-v");
	old.version(1).stores({
		entries: "id, *refs, unsent, seq, state",
		photos: "sha256, state",
		chunks: "[sha256+idx]",
		meta: "key",
		drafts: "key",
		outlooks: "about",
	});
	const sent = entry("1");
	const unsent = entry("2", "S");
	await old.table("entries").bulkAdd([
		{ id: "1", entry: sent, refs: ["R"], state: "stored", seq: 7, received: 1 },
		{ id: "2", entry: unsent, refs: ["S"], state: "unsent", unsent: 1, fromNewerApp: true },
	]);
	await old.table("drafts").add({ key: "cut", value: { number: "MV 1" } });
	old.close();
	const { storage } = await fresh("older");
	expect((await storage.exchange.outbox(9, new Set())).map((e) => e.entry)).toEqual([unsent]);
	expect(await storage.records.counts()).toMatchObject({ unsent: 1, onServer: 1 });
	expect(await storage.drafts.load("cut")).toEqual({ number: "MV 1" });
	expect(await new Vault("older-v").table("entries").get("2")).toMatchObject({
		fromNewerApp: true,
		made: unsent.made,
		n: 0,
	});
	await storage.records.save(saving(entry("3", "S")));
	expect((await storage.records.changesSince(0)).records).toEqual(["S"]);
});

test("an older page is told when a newer one opens the store", async () => {
	const { storage, told, name } = await fresh();
	await storage.records.save(saving(entry("1")));
	const newer = new Dexie(`${name}-v`);
	newer.version(3).stores({ more: "id" });
	await newer.open();
	expect(told).toEqual(["newer"]);
	await expect(storage.records.recordIds()).rejects.toMatchObject({ code: "app-too-old" });
	newer.close();
});

test("a page that finds a store newer than itself says so, and still saves", async () => {
	const newer = new Dexie("ahead-v");
	newer.version(9).stores({
		entries: "id, *refs, unsent, seq, state, n, [unsent+made]",
		photos: "sha256, state",
		chunks: "[sha256+idx]",
		meta: "key",
		drafts: "key",
		outlooks: "about",
		ballast: "id",
		more: "id",
	});
	await newer.open();
	newer.close();
	const { storage, told } = await fresh("ahead");
	expect(told).toEqual(["newer"]);
	await storage.records.save(saving(entry("1")));
	expect((await storage.records.entries(["1"])).length).toBe(1);
});
