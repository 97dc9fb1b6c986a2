import "fake-indexeddb/auto";
import { expect, test } from "vitest";
import type { ExchangeChange, Line } from "../../../pwa/src/sync/ports";
import { entry, fresh, saving } from "./fixtures";

const at = (seq: number, id: string, epoch = "E") => ({ epoch, seq, entry: id });

function change(more: Partial<ExchangeChange>): ExchangeChange {
	return {
		verdicts: [],
		refused: [],
		lines: [],
		outlooks: [],
		cursor: at(1, "1"),
		high: at(1, "1"),
		numbers: [],
		server: { clockOffMs: 0, shiftDays: 0, backedUp: null, atMs: 0 },
		moveClock: (stored) => stored,
		...more,
	};
}

const line = (id: string, seq: number, more: Partial<Line> = {}) =>
	({
		...entry(id),
		seq,
		received: 1000 + seq,
		state: "stored",
		vouched: true,
		...more,
	}) as Line;

const none = new Set<string>();

test("verdicts empty the outbox, refusals leave it for the person, lines come in", async () => {
	const { storage } = await fresh();
	const { exchange, records } = storage;
	await records.save(saving(entry("1"), entry("2"), entry("3", "S")));
	const error = { code: "too-large", where: null, message: "m", fix: null };
	const touched = await exchange.applyExchange(
		change({
			verdicts: [{ id: "1", seq: 4, state: "held", received: 9, errors: [error] }],
			refused: [{ id: "2", error }],
			lines: [line("9", 3, { about: "T", also: ["U"], shade: "unknown to this side" })],
			cursor: at(4, "1"),
			high: at(4, "1"),
		}),
	);
	expect(touched.sort()).toEqual(["R", "T", "U"]);
	expect((await exchange.outbox(9, none)).map((e) => e.id)).toEqual(["3"]);
	expect((await records.attention()).map((e) => [e.id, e.state, e.seq])).toEqual([
		["1", "held", 4],
		["2", "refused", null],
	]);
	const [nine] = await records.entries(["9"]);
	expect(nine).toMatchObject({ seq: 3, received: 1003, vouched: true, state: "stored" });
	expect(nine?.entry).toEqual({ ...entry("9", "T"), also: ["U"], shade: "unknown to this side" });
	expect(await exchange.standing()).toMatchObject({ cursor: at(4, "1"), high: at(4, "1") });
});

test("a held entry that is delivered again takes its new state and number", async () => {
	const { exchange, records } = (await fresh()).storage;
	await exchange.applyExchange(change({ lines: [line("1", 1, { state: "held" })] }));
	await exchange.applyExchange(change({ lines: [line("1", 8)] }));
	expect((await records.entries(["1"]))[0]).toMatchObject({ seq: 8, state: "stored" });
	expect((await records.counts()).onServer).toBe(1);
});

test("unsent words are never written over by others under the same id", async () => {
	const { exchange, records } = (await fresh()).storage;
	await records.save(saving(entry("1")));
	const same = { data: { ripeness: "ripe" } };
	await exchange.applyExchange(change({ lines: [line("1", 1, { data: { ripeness: "spent" } })] }));
	expect((await exchange.outbox(9, none))[0]?.entry).toMatchObject(same);
	await exchange.applyExchange(change({ lines: [line("1", 1, same)] }));
	expect(await exchange.outbox(9, none)).toEqual([]);
});

test("the outbox goes out by stamp, within its limit, without what is put aside", async () => {
	const { exchange, records } = (await fresh()).storage;
	await records.save(saving(entry("z", "R", { made: "0b" }), entry("y", "R", { made: "0a" })));
	await records.save(saving(entry("x", "R", { made: "0c" })));
	const ids = async (limit: number, skip = none) =>
		(await exchange.outbox(limit, skip)).map((e) => e.id);
	expect(await ids(9)).toEqual(["y", "z", "x"]);
	expect(await ids(2)).toEqual(["y", "z"]);
	expect(await ids(2, new Set(["y"]))).toEqual(["z", "x"]);
	expect(await exchange.unsent()).toEqual({ count: 3, oldestMade: "0a" });
});

test("after a server went back: all is checked in order, what is lacking goes out again", async () => {
	const { exchange, records } = (await fresh()).storage;
	const lines = ["1", "2", "3"].map((id, i) => line(id, i + 1));
	await exchange.applyExchange(change({ lines, cursor: at(3, "3"), high: at(3, "3") }));
	await exchange.beginChecking();
	expect(await exchange.standing()).toEqual({
		cursor: null,
		high: null,
		checking: { epoch: null, stage: "entries", after: "" },
	});
	expect(await records.counts()).toMatchObject({ checking: 3, unsent: 0 });
	expect(await exchange.idsToCheck("", 2)).toEqual(["1", "2"]);
	const next = { epoch: "F", stage: "entries" as const, after: "2" };
	expect(await exchange.settleChecked(["2"], [], next)).toEqual(["R"]);
	expect(await exchange.idsToCheck("2", 2)).toEqual(["3"]);
	expect(await records.counts()).toMatchObject({ checking: 1, unsent: 1 });
	expect((await records.entries(["2"]))[0]).toMatchObject({
		seq: null,
		state: "unsent",
		received: 1002,
	});
});

test("number blocks replace those before, what was taken stays taken", async () => {
	const { exchange, records } = (await fresh()).storage;
	const taken = { met: false, blocks: {}, last: { box: { n: 7, letters: 0 } } };
	await records.save({ make: () => ({ clock: "c", numbers: taken, entries: [] }) });
	const numbers = [{ series: "box", from: 51, to: 100 }];
	await exchange.applyExchange(change({ numbers }));
	await exchange.applyExchange(change({}));
	expect(await records.numbers()).toEqual({
		met: true,
		blocks: { box: [{ from: 51, to: 100 }] },
		last: { box: { n: 7, letters: 0 } },
	});
});

test("backed up counts only in the history the phone stands in", async () => {
	const { exchange, records } = (await fresh()).storage;
	const lines = ["1", "2", "3"].map((id, i) => line(id, i + 1));
	const server = (epoch: string) => ({
		clockOffMs: 0,
		shiftDays: 0,
		backedUp: { epoch, seq: 2, at: "2026-05-02T03:00:00Z" },
		atMs: 0,
	});
	await exchange.applyExchange(change({ lines, cursor: at(3, "3"), server: server("E") }));
	expect((await records.counts()).backedUp).toBe(2);
	await exchange.applyExchange(change({ cursor: at(3, "3"), server: server("OTHER") }));
	expect((await records.counts()).backedUp).toBe(0);
});

test("a photo is read in pieces from any offset, and its state is kept", async () => {
	const { exchange, photos, records } = (await fresh()).storage;
	const bytes = new Uint8Array(600_000).map((_, i) => i % 251);
	const photo = { sha256: "p", bytes: bytes.length, type: "image/jpeg", w: 2, h: 2 };
	await photos.keepDraft(photo, bytes.buffer, null, 1);
	await records.save({ ...saving(entry("1")), photos: ["p"] });
	let read: number[] = [];
	for (let piece = await exchange.photoPiece("p", 0); piece; ) {
		expect(piece.byteLength).toBeLessThanOrEqual(262_144);
		read = [...read, ...new Uint8Array(piece)];
		piece = await exchange.photoPiece("p", read.length);
	}
	expect(read).toEqual([...bytes]);
	expect(new Uint8Array((await exchange.photoPiece("p", 300_001)) as ArrayBuffer)[0]).toBe(
		300_001 % 251,
	);
	await exchange.setPhotoState("p", "server");
	expect(await exchange.waitingPhotos()).toEqual([]);
	expect(await exchange.photosToCheck("", 9)).toEqual(["p"]);
	await exchange.settleChecked([], ["p"], { epoch: "F", stage: "pull", after: "" });
	expect(await exchange.waitingPhotos()).toEqual([photo]);
	await exchange.setPhotoState("p", "server");
	await photos.dropFull(["p"]);
	expect(await photos.full("p")).toBeNull();
	expect((await photos.get("p"))?.state).toBe("dropped");
});

test("a form is kept through a closed tab and dropped when saved", async () => {
	const one = await fresh("drafts");
	one.storage.drafts.keep("cut", { number: "MV 1" });
	one.storage.drafts.keep("sow", { density: "thin" });
	expect(one.storage.drafts.dirty).toBe(true);
	await one.storage.drafts.flush();
	one.storage.close();
	const two = await fresh("drafts");
	expect(await two.storage.drafts.load("cut")).toEqual({ number: "MV 1" });
	await two.storage.records.save({ ...saving(entry("1")), dropDraft: "cut" });
	expect(await two.storage.drafts.load("cut")).toBeUndefined();
	two.storage.drafts.drop("sow");
	expect(await two.storage.drafts.load("sow")).toBeUndefined();
});

test("folded records are read only by the rules that made them", async () => {
	const { folds } = (await fresh()).storage;
	const fold = { id: "R", record: { id: "R", type: "plant" } } as never;
	expect(await folds.read("rules-1")).toBeNull();
	await folds.write("rules-1", 5, [fold], true);
	expect(await folds.read("rules-1")).toEqual({ change: 5, folds: [fold] });
	expect(await folds.read("rules-2")).toBeNull();
});
