import "fake-indexeddb/auto";
import { Dexie } from "dexie";
import { expect, test } from "vitest";
import { CacheDb } from "../../../pwa/src/storage/cache";
import { openStorage } from "../../../pwa/src/storage/storage";
import { failureOf, Unit } from "../../../pwa/src/storage/unit";
import { entry, fresh, saving, timers } from "./fixtures";

const failing = (...names: string[]) => {
	const left = [...names];
	return () => {
		const name = left.shift();
		if (name) throw new DOMException("Connection to Indexed Database server lost", name);
	};
};

async function unitOf(name: string, giveRoom?: () => Promise<boolean>) {
	const db = new CacheDb(name);
	const unit = new Unit(db, timers, giveRoom);
	await unit.open({ newer: () => undefined, heldByOther: () => undefined });
	const write = (fail: () => void) =>
		unit.write([db.meta], async () => {
			await db.meta.add({ key: "k", rules: "r", change: 1 });
			fail();
		});
	return { db, write };
}

test("a lost connection is opened again and the whole unit runs again", async () => {
	const { db, write } = await unitOf("lost");
	await write(failing("UnknownError", "InvalidStateError", "AbortError"));
	expect(await db.meta.count()).toBe(1);
});

test("a connection that stays lost is a named error, and nothing half is left", async () => {
	const { db, write } = await unitOf("gone");
	await expect(write(failing(...Array(4).fill("UnknownError")))).rejects.toMatchObject({
		code: "storage-lost",
	});
	expect(await db.meta.count()).toBe(0);
	await write(failing());
	expect(await db.meta.count()).toBe(1);
});

test("a full store gives up its ballast once, then says that it is full", async () => {
	let given = 0;
	const { db, write } = await unitOf("full", async () => given++ === 0);
	await write(failing("QuotaExceededError"));
	expect(await db.meta.count()).toBe(1);
	await db.meta.clear();
	await expect(write(failing("QuotaExceededError"))).rejects.toMatchObject({
		code: "storage-full",
	});
	expect(given).toBe(2);
});

test("the ballast lets a note be saved on a full phone", async () => {
	const { storage, told } = await fresh("ballast");
	await storage.fillBallast();
	const fail = failing("QuotaExceededError");
	const work = saving(entry("1"));
	const make = () => {
		fail();
		return work.make();
	};
	expect((await storage.records.save({ make })).map((e) => e.id)).toEqual(["1"]);
	expect(told).toEqual(["full"]);
	const again = failing("QuotaExceededError");
	await expect(
		storage.records.save({
			make: () => {
				again();
				return work.make();
			},
		}),
	).rejects.toMatchObject({ code: "storage-full" });
});

test("what a browser wraps is still found", () => {
	const wrapped = Object.assign(new Error("Aborted"), {
		name: "AbortError",
		inner: new DOMException("", "QuotaExceededError"),
	});
	expect(failureOf(wrapped)).toBe("full");
	expect(failureOf(new TypeError("x"))).toBe("other");
});

test("a browser without a store is a named error", async () => {
	const real = Dexie.dependencies.indexedDB;
	const refusing = Object.create(real, {
		open: {
			value: () => {
				throw new DOMException("The user denied permission", "SecurityError");
			},
		},
	});
	Dexie.dependencies.indexedDB = refusing;
	const events = { newer: () => undefined, heldByOther: () => undefined, full: () => undefined };
	const opening = openStorage(timers, events, { vault: "refused-v", cache: "refused-c" });
	await expect(opening).rejects.toMatchObject({ code: "storage-refused" });
	Dexie.dependencies.indexedDB = real;
});
