import { expect, test } from "vitest";
import type { ExchangeChange } from "../../../pwa/src/sync/ports";
import { claimed, phone } from "./desk-fixture";

const fix = {
	lat_e7: 501_000_000,
	lon_e7: 86_000_000,
	uncertainty_m: 9,
	at: "2026-05-02T12:00:00",
};
const kindsOf = (entries: { kind: string }[]) => entries.map(({ kind }) => kind).sort();

test("who begins alone is known, and kept over a restart", async () => {
	const one = await phone();
	expect(one.core.state.value).toBe("unclaimed");
	await expect(one.core.verbs.logPlant({})).rejects.toMatchObject({ code: "unclaimed" });
	await one.core.verbs.claim({ name: "Marta Vell", initials: "MV" });
	expect(one.core.me.value).toMatchObject({ name: "Marta Vell", joined: false, logbook: null });
	const again = await phone(one.name);
	expect(again.core.state.value).toBe("ready");
	expect(again.core.me.value?.person).toBe(one.core.me.value?.person);
	expect(again.core.records.value.labelOf(again.core.me.value?.person ?? "")).toBe("Marta Vell");
});

test("a cut is gathering, cut and packet in one save, with the position that is there", async () => {
	const { core, entries, fix: stand } = await claimed();
	stand(fix);
	const plant = (await core.verbs.logPlant({ placeWords: "Ostrel Gill" })).made.plant as string;
	expect(core.verbs.nextNumber("mine")).toBe("MV 1");
	const { made, ids } = await core.verbs.cut({
		number: "MV 1",
		plant,
		taken: "pinna",
		plants: 2,
		ripeness: "ripe",
	});
	const shelves = core.records.value;
	const place = shelves.get(plant)?.fields["plant.described"]?.place as string;
	expect(shelves.labelOf(place)).toBe("Ostrel Gill");
	expect(shelves.get(made.gathering as string)?.fields["gathering.described"]).toMatchObject({
		...{ number: "MV 1", plant, place, collectors: ["Marta Vell"] },
	});
	expect(shelves.get(made.packet as string)?.fields["packet.described"]).toEqual({
		from: made.gathering,
	});
	expect(shelves.get(plant)?.states.ripeness?.value).toBe("ripe");
	expect(shelves.get(plant)?.sums).toEqual({ plants: 2 });
	const cut = (await entries(made.gathering as string)).find(({ kind }) => kind === "frond.cut");
	expect(cut).toMatchObject({
		also: [plant, place],
		at: "2026-05-02T12:00:00+02:00[Europe/Berlin]",
	});
	expect(shelves.get(made.gathering as string)?.fields["place.fixed"]).toMatchObject({
		audience: "growers",
		datum: "WGS84",
	});
	expect(core.verbs.nextNumber("mine")).toBe("MV 2");
	expect(ids.length).toBe(6);
	expect(core.safety.value.unsent).toBeGreaterThan(6);
});

test("a position that comes a little later is added to what was saved without one", async () => {
	const { core, later, entries } = await claimed();
	later(fix);
	const { made } = await core.verbs.logPlant({});
	await expect
		.poll(async () => kindsOf(await entries(made.plant as string)))
		.toContain("place.fixed");
	const none = await core.verbs.logPlant({ fix: null, name: "by the gate" });
	await new Promise((resolve) => setTimeout(resolve, 20));
	expect(kindsOf(await entries(none.made.plant as string))).not.toContain("place.fixed");
});

test("the same tap twice is one save; a later one is another", async () => {
	const { core, at } = await claimed();
	const tap = () => core.verbs.seeGrowth("S", "nothing");
	const [one, two] = await Promise.all([tap(), tap()]);
	expect(two.ids).toEqual(one.ids);
	at(Date.parse("2026-05-02T10:00:01Z"));
	expect((await tap()).ids).not.toEqual(one.ids);
});

test("a whole save is crossed out with one word, and brought back by crossing that out", async () => {
	const { core } = await claimed();
	const saved = await core.verbs.makeShelf({ name: "the sill", stands: "sill" });
	const id = saved.made.shelf as string;
	const undone = await saved.undo("a slip");
	expect(core.records.value.ofType("shelf")).toEqual([]);
	expect(core.records.value.get(id)?.struck.length).toBe(2);
	await undone.undo("no, it was right");
	expect(core.records.value.labelOf(id)).toBe("the sill");
});

test("sowings in one box get letters, the box stands on its shelf, the name comes up the line", async () => {
	const { core } = await claimed();
	const { verbs } = core;
	const shelf = (await verbs.makeShelf({ name: "north", stands: "shelf" })).made.shelf as string;
	const naming = { taxon: "Athyrium filix-femina 'Ostrel Lace'", sure: "received" as const };
	const packet = (await verbs.receive({ from: "Jon", naming })).made.packet as string;
	const { made } = await verbs.sow({ packets: [packet], shelf, vessel: "box", density: "right" });
	await verbs.sow({ packets: [packet], box: made.box as string, control: false });
	const shelves = core.records.value;
	expect(shelves.labelOf(made.box as string)).toBe("box 1");
	expect(shelves.boxesOn(shelf).map(({ id }) => id)).toEqual([made.box]);
	expect(
		shelves.sowingsIn(made.box as string).map((s) => s.fields["sowing.described"]?.part),
	).toEqual([undefined, "b"]);
	expect(shelves.nameOf(made.box as string)).toMatchObject({
		taxon: naming.taxon,
		qualifier: "ex",
		from: packet,
	});
	expect(shelves.codeOf(made.box as string)).toMatch(/^[2-9A-Z]{6}$/);
	expect(
		core
			.search("ostrel lace")
			.map(({ label }) => label)
			.sort(),
	).toEqual(["box 1", "box 1", "box 1 b", "packet 1"]);
	const walk = await verbs.walkShelf(shelf);
	expect((await core.entriesOf(shelf)).find(({ id }) => id === walk.ids[0])?.entry.also).toEqual([
		made.box,
	]);
});

test("the first look is due after two weeks, and its answer ends it", async () => {
	const { core, at } = await claimed();
	const { made } = await core.verbs.sow({
		packets: [],
		naming: { taxon: "Dryopteris filix-mas", sure: "certain" },
	});
	at(Date.parse("2026-05-20T08:00:00Z"));
	core.lookAtClock();
	const [task] = core.tasks.value.filter(({ rule }) => rule === "first-look");
	expect(task).toMatchObject({ subject: made.box, due: "2026-05-16" });
	if (!task) return;
	await core.verbs.answer(task, "green_film");
	expect(core.records.value.get(made.sowing as string)?.states.growth?.value).toBe("green_film");
	expect(core.tasks.value.filter(({ rule }) => rule === "first-look")).toEqual([]);
	await expect(core.verbs.answer(task, "no-such-code")).rejects.toMatchObject({
		code: "no-such-question",
	});
});

test("who keeps a shelf has its tasks, others have not", async () => {
	const { core, at } = await claimed();
	const shelf = (await core.verbs.makeShelf({ name: "north", stands: "shelf" })).made
		.shelf as string;
	await core.verbs.sow({ packets: [], shelf });
	at(Date.parse("2026-05-20T08:00:00Z"));
	core.lookAtClock();
	expect(core.tasks.value.length).toBeGreaterThan(0);
	await core.verbs.setKeeper(shelf, [{ person: "somebody-else" }]);
	expect(core.tasks.value).toEqual([]);
	expect(core.allTasks.value.length).toBeGreaterThan(0);
});

test("a description lists what it has seen; an emptied line is set to nothing", async () => {
	const { core, entries } = await claimed();
	const plant = (await core.verbs.logPlant({ note: "by the wall" })).made.plant as string;
	await core.verbs.describe(plant, "record.described", { note: "", name: "wall fern", code: "" });
	const [first, noted, last] = (await core.entriesOf(plant)).filter(
		({ entry }) => entry.kind === "record.described",
	);
	expect(last?.entry.data).toEqual({ note: null, name: "wall fern", code: null });
	expect(last?.entry.seen).toEqual({ note: [noted?.id], name: [first?.id], code: [first?.id] });
	expect((await entries(plant)).length).toBe(4);
});

test("numbers run on over a restart", async () => {
	const one = await claimed();
	await one.core.verbs.makeBox({});
	await one.core.verbs.makeBox({ name: "box 9" });
	const two = await phone(one.name);
	expect(two.core.verbs.nextNumber("box")).toBe("box 10");
	expect(two.core.verbs.nextNumber("packet")).toBe("packet 1");
});

test("an entry that is too long is not taken, and nothing is half saved", async () => {
	const { core } = await claimed();
	const size = core.records.value.size;
	const note = "n".repeat(17_000);
	await expect(core.verbs.logPlant({ note })).rejects.toMatchObject({ code: "too-large" });
	expect(core.records.value.size).toBe(size);
	expect(core.verbs.nextNumber("plant")).toBe("plant 1");
});

test("joining keeps ids and offers everything; a spent invitation says so", async () => {
	const { core, account } = await claimed();
	const person = core.me.value?.person;
	const asked: unknown[] = [];
	account.join = async (request: never) => {
		asked.push(request);
		const { device, person: who } = request as { device: object; person: object };
		const logbook = { id: "L", name: "Ferns" };
		return { ok: true, status: 201, roundTripMs: 1, value: { person: who, device, logbook } };
	};
	await expect(
		core.verbs.join({ link: "https://other.example/join#AAAA-AAAA" }),
	).rejects.toMatchObject({ code: "other-server" });
	await core.verbs.join({ link: "https://ferns.example/join#AAAA-BBBB" });
	expect(asked).toMatchObject([
		{ invitation: "AAAA-BBBB", person: { id: person, initials: "MV" } },
	]);
	expect(core.me.value).toMatchObject({ joined: true, logbook: { id: "L" }, person });
	expect((await core.unsentEntries()).length).toBe(2);
	account.me = async () => ({ ok: true, status: 200, roundTripMs: 1, value: { logbooks: [] } });
	await expect(core.verbs.join({ code: "CCCC-DDDD" })).rejects.toMatchObject({
		code: "already-joined",
	});
});

test("a wrong clock is put right for today and for new entries, never for old ones", async () => {
	const { core, at, entries } = await claimed();
	const plant = (await core.verbs.logPlant({})).made.plant as string;
	const before = await entries(plant);
	core.said.value = { clockOffMs: -3 * 86_400_000, shiftDays: 0, backedUp: null, atMs: 0 };
	core.lookAtClock();
	expect(core.today.value).toBe("2026-05-05");
	core.said.value = { clockOffMs: 0, shiftDays: 10, backedUp: null, atMs: 0 };
	core.lookAtClock();
	expect(core.today.value).toBe("2026-05-12");
	at(Date.parse("2026-05-02T22:30:00Z"));
	expect(core.now()).toBe("2026-05-13T00:30:00+02:00");
	expect(await entries(plant)).toEqual(before);
});

test("two who disagree are a question; its answer lists all heads and closes it", async () => {
	const { core, storage } = await claimed();
	const plant = (await core.verbs.logPlant({ name: "Ostrel fern" })).made.plant as string;
	const mine = (await core.entriesOf(plant)).find(({ entry }) => entry.kind === "record.described");
	if (!mine) throw new Error("no description");
	const other = {
		...mine.entry,
		id: "0-other",
		made: mine.entry.made.replace(/a1$/, "b1"),
		data: { name: "Beck fern" },
		seen: { name: [] },
	};
	await storage.exchange.applyExchange(received([other]));
	await core.refresh();
	await core.verbs.setPerson({ detail: false });
	const [question] = core.records.value.get(plant)?.questions ?? [];
	expect(question).toMatchObject({ kind: "record.described", field: "name" });
	if (!question) return;
	await core.verbs.answerQuestion(plant, question, "Ostrel fern");
	expect(core.records.value.get(plant)?.questions).toEqual([]);
	expect(core.records.value.labelOf(plant)).toBe("Ostrel fern");
	expect((await core.entriesOf(plant)).at(-1)?.entry.seen).toEqual({ name: [mine.id, "0-other"] });
});

test("a held entry is put right by a new one and a strike that names it", async () => {
	const { core, storage } = await claimed();
	const [id = ""] = (await core.verbs.seeSori({ plant: "R", ripeness: "brownish" as never })).ids;
	const verdict = { id, seq: 1, state: "held" as const, received: 1, errors: [] };
	await storage.exchange.applyExchange({ ...received([]), verdicts: [verdict] });
	await core.verbs.setPerson({ detail: false });
	expect((await core.needsFixing()).map((stored) => stored.id)).toEqual([id]);
	await core.verbs.fixHeld(id, { ripeness: "ripe" });
	expect(core.records.value.get("R")?.states.ripeness?.value).toBe("ripe");
	const strike = (await core.entriesOf("R")).find(({ entry }) => entry.kind === "entry.struck");
	expect(strike?.entry.data).toMatchObject({
		entry: id,
		instead: core.records.value.get("R")?.facts[0],
	});
	expect(await core.needsFixing()).toEqual([]);
	expect(core.safety.value.held).toBe(0);
});

test("a refused entry counts nowhere, and is written again under a new id", async () => {
	const { core, storage } = await claimed();
	const [id = ""] = (await core.verbs.seeSori({ plant: "R", ripeness: "ripe" })).ids;
	const error = { code: "id-reused", where: null, message: "", fix: null };
	await storage.exchange.applyExchange({ ...received([]), refused: [{ id, error }] });
	await core.verbs.setPerson({ detail: false });
	expect(core.records.value.get("R")?.facts).toEqual([]);
	await core.verbs.fixHeld(id, { ripeness: "ripe" });
	expect(core.records.value.get("R")?.facts.length).toBe(1);
	expect(await core.needsFixing()).toEqual([]);
	expect((await storage.records.entries([id])).length).toBe(1);
});

function received(lines: object[]): ExchangeChange {
	const beside = { received: 1, state: "stored", vouched: true };
	const mark = { epoch: "E", seq: 9, entry: "0-other" };
	return {
		...{ verdicts: [], refused: [], outlooks: [], numbers: [], cursor: mark, high: mark },
		lines: lines.map((entry, i) => ({
			...entry,
			seq: i + 1,
			...beside,
		})) as ExchangeChange["lines"],
		server: { clockOffMs: 0, shiftDays: 0, backedUp: null, atMs: 0 },
		moveClock: (stored) => stored,
	};
}
