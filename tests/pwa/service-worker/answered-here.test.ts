import "fake-indexeddb/auto";
import { Dexie } from "dexie";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test } from "vitest";
import { answeredHere, answers, VAULT } from "../../../pwa/src/service-worker/answered-here";
import { VAULT_NAME, Vault } from "../../../pwa/src/storage/vault";

const BOX = "019de28d-3c00-7000-8000-0000000000aa";
const TASK = `${BOX}/first-look/2026-05-01`;

const row = (id: string, kind: string, data: object, refs = [BOX]) => ({
	id,
	refs,
	entry: { kind, data: data as Record<string, unknown> },
});

beforeEach(() => {
	globalThis.indexedDB = new IDBFactory();
	Dexie.dependencies.indexedDB = indexedDB;
});

test("the worker names the vault as storage does", async () => {
	const vault = new Vault();
	expect(VAULT.name).toBe(VAULT_NAME);
	expect(vault.table(VAULT.store).schema.idxByName[VAULT.index]).toBeDefined();
});

test("an answer, or a look at the box, answers the task", () => {
	expect(answers([row("a", "task.answered", { task: TASK, answer: "later" })], TASK)).toBe(true);
	expect(answers([row("a", "growth.seen", { growth: "green_film" })], TASK)).toBe(true);
	expect(answers([row("a", "shelf.walked", {}, ["shelf", BOX])], TASK)).toBe(true);
});

test("other tasks, other boxes, other notes and crossed-out answers do not", () => {
	expect(answers([], TASK)).toBe(false);
	expect(answers([row("a", "task.answered", { task: `${BOX}/round/2026` })], TASK)).toBe(false);
	expect(answers([row("a", "growth.seen", {}, ["another"])], TASK)).toBe(false);
	expect(answers([row("a", "record.described", { note: "x" })], TASK)).toBe(false);
	const struck = [row("a", "growth.seen", {}), row("b", "entry.struck", { entry: "a" })];
	expect(answers(struck, TASK)).toBe(false);
});

test("it reads the vault as storage wrote it", async () => {
	const vault = new Vault();
	await vault.entries.put({
		...row("a", "growth.seen", { growth: "green_film" }),
		entry: {
			id: "a",
			kind: "growth.seen",
			v: 1,
			about: "sowing",
			also: [BOX],
			at: "2026-05-15",
			made: "019de28d3c00-00000000-00000000000000a1",
			data: { growth: "green_film" },
		},
		state: "unsent",
		made: "019de28d3c00-00000000-00000000000000a1",
		n: 1,
		unsent: 1,
	});
	vault.close();
	expect(await answeredHere(indexedDB, TASK)).toBe(true);
	expect(await answeredHere(indexedDB, "another/first-look/2026-05-01")).toBe(false);
});

test("a phone without a vault gets none made, and the notice is shown as it came", async () => {
	expect(await answeredHere(indexedDB, TASK)).toBe(false);
	expect(await indexedDB.databases()).toEqual([]);
});
