// @vitest-environment happy-dom
import { cleanup, fireEvent, screen, waitFor } from "@testing-library/preact";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { dayLong } from "../../../pwa/src/parts/dates";
import { hideSaved } from "../../../pwa/src/parts/saved-strip";
import { say } from "../../../pwa/src/parts/say";
import type { FoldedRecord, StoredEntry } from "../../../pwa/src/records/desk";
import { askedOf, looksOf, waitOf } from "../../../pwa/src/screens/bench/box-state";
import { callsOf, openAt, tap, title } from "../gallery/open";
import { boxOf, record, shelvesOf, type ToldBox } from "../gallery/records";
import { notesOfBox31, scenes, task, today } from "../gallery/scenes";

beforeEach(hideSaved);
afterEach(cleanup);

const shelf = record("shelf", "north shelf", { id: "north" });
const fern = (over: Partial<ToldBox> = {}): ToldBox => ({
	n: 31,
	shelf: "north",
	taxon: "Polypodium vulgare",
	sown: "2026-06-29",
	...over,
});
const waiting = (told: ToldBox, on: string) => {
	const records = boxOf(told);
	return waitOf(shelvesOf(records), records[0] as FoldedRecord, on);
};

describe("the wait", () => {
	const usual = waiting(fern(), today)?.usual ?? [0, 0];
	const day = (n: number) => new Date(Date.UTC(2026, 5, 29 + n)).toISOString().slice(0, 10);

	test("counts days from sowing, under the band of its kind", () => {
		expect(waiting(fern(), "2026-08-18")?.day).toBe(50);
		expect(usual[0]).toBeGreaterThan(0);
		expect(usual[1]).toBeGreaterThan(usual[0]);
	});

	test("before, within and past the band; past is never called lost", () => {
		expect(waiting(fern(), day(usual[0] - 1))?.stands).toBe("before");
		expect(waiting(fern(), day(usual[0]))?.stands).toBe("within");
		expect(waiting(fern(), day(usual[1]))?.stands).toBe("within");
		expect(waiting(fern(), day(usual[1] + 1))?.stands).toBe("past");
		expect(say("bench.wait.past")).toContain("not lost");
	});

	test("is over once anything is green, not when someone saw nothing", () => {
		expect(waiting(fern({ growth: ["green_film", today] }), today)?.stands).toBe("green");
		expect(waiting(fern({ growth: ["nothing", today] }), day(usual[0]))?.stands).toBe("within");
	});

	test("is not known without a day of sowing; a fern that the tables lack is a guess", () => {
		expect(waiting({ n: 31, taxon: "Polypodium vulgare" }, today)).toBeNull();
		expect(waiting(fern({ taxon: "Nowherea nulla" }), today)?.guess).toBe(true);
		expect(waiting(fern(), today)?.guess).toBe(false);
	});

	test("its rings are looks: one a day, none that was crossed out, none before sowing", () => {
		expect(looksOf(notesOfBox31, "2026-06-29", today)).toEqual([14, 29]);
		const twice = notesOfBox31.flatMap((note) => [note, { ...note, id: `${note.id}-again` }]);
		expect(looksOf(twice, "2026-06-29", today)).toEqual([14, 29]);
		expect(looksOf(notesOfBox31, "2026-07-20", today)).toEqual([8]);
	});
});

describe("what is asked", () => {
	const own = task({ subject: "box-31", rule: "first-look" });
	const later = { ...own, id: "later", due: "2026-09-01" };
	const round = task({ subject: "north", rule: "round", covers: ["box-31"] });

	test("its own question when it is due, else the next day or the round", () => {
		expect(askedOf([own, round], "box-31", today)).toEqual({ now: own, next: null });
		expect(askedOf([later], "box-31", today)).toEqual({ now: null, next: later });
		expect(askedOf([round, later], "box-31", today)).toEqual({ now: null, next: round });
		expect(askedOf([own], "box-9", today)).toEqual({ now: null, next: null });
	});
});

describe("the screen of a box", () => {
	const one = { today, records: [shelf, ...boxOf(fern())], entries: notesOfBox31 };
	const look = task({ subject: "box-31", rule: "first-look", due: "2026-09-01" });

	test("says outright to leave it, and till when", async () => {
		openAt("/bench/box/box-31", { ...one, tasks: [look] });
		expect(await title()).toBe("Polypodium vulgare");
		const day = dayLong("2026-09-01", today);
		expect(screen.getByText(say("bench.box.leave-first-look", { day }))).toBeTruthy();
	});

	test("shows the usual band as common practice, and no limit", async () => {
		openAt("/bench/box/box-31", one);
		expect(await screen.findByText(say("bench.wait.practice"))).toBeTruthy();
		expect(screen.getByRole("img", { name: /Day 50 since sowing/ })).toBeTruthy();
	});

	test("growth is noted of the sowing, from three taps away", async () => {
		const desk = openAt("/bench/box/box-31", one);
		await tap(say("bench.new.growth"));
		await tap(say("parts.growth.prothalli"));
		await screen.findByText(/Box 31: prothalli/);
		expect(callsOf(desk, "seeGrowth")).toEqual([["sowing-31", "prothalli"]]);
	});

	test("trouble and lid are noted of the box", async () => {
		const desk = openAt("/bench/box/box-31", one);
		await tap(say("bench.new.trouble"));
		await tap(say("parts.trouble.gnats"));
		await waitFor(() => expect(callsOf(desk, "beginTrouble")).toEqual([["box-31", "gnats"]]));
		await tap(say("bench.new.cover"));
		await tap(say("parts.cover.pencil"));
		await waitFor(() => expect(callsOf(desk, "setCover")).toEqual([["box-31", "pencil"]]));
	});

	test("of two ferns, the trouble is of the one that was chosen; wetness is of the box", async () => {
		const desk = openAt("/bench/box/box-14", scenes.two);
		expect(await title()).toBe(say("bench.box.two"));
		await tap(say("bench.new.trouble"));
		await tap(/Adiantum/);
		await tap(say("parts.trouble.slime"));
		await waitFor(() => expect(callsOf(desk, "beginTrouble")).toEqual([["sowing-14b", "slime"]]));
		await tap(say("bench.new.trouble"));
		await tap(say("parts.trouble.dry"));
		await waitFor(() => expect(callsOf(desk, "beginTrouble")[1]).toEqual(["box-14", "dry"]));
	});

	test("a trouble is over where it was", async () => {
		const desk = openAt("/bench/box/box-14", scenes.two);
		await tap(say("bench.state.over"));
		await waitFor(() => expect(callsOf(desk, "endTrouble")).toEqual([["box-14", "mould"]]));
	});

	test("its story: what was crossed out stays, with its reason; the rest can be", async () => {
		const desk = openAt("/bench/box/box-31", one);
		const gone = await screen.findByText("green film", { selector: "s" });
		expect(gone.closest(".row")?.textContent).toContain("algae, not fern");
		const [latest] = await screen.findAllByRole("button", { name: say("parts.saved.cross-out") });
		fireEvent.click(latest as HTMLElement);
		await waitFor(() =>
			expect(callsOf(desk, "strike")).toEqual([["look-2", say("parts.saved.reason")]]),
		);
	});

	test("where it came from: plant, my number, packet, box", async () => {
		openAt("/bench/box/box-31", scenes.busy);
		const strip = await screen.findByRole("img", { name: /Where it came from/ });
		expect(strip.getAttribute("aria-label")).toMatch(/plant 7.*MV 19.*packet 52.*box 31/);
	});

	test("an unsown control and an unnamed fern are called so", async () => {
		openAt("/bench/box/box-5", { today, records: boxOf({ n: 5, control: true }) });
		expect(await title()).toBe(say("bench.box.control"));
		cleanup();
		openAt("/bench/box/box-5", { today, records: boxOf({ n: 5 }) });
		expect(await title()).toBe("Fern not named yet");
	});

	test("without a name it is called as its packet was received", async () => {
		const packet = record("packet", "packet 7", { facts: { "packet.received": "2026-08-01" } });
		const words = "Dicksonia sp., garden";
		const [note] = notesOfBox31;
		const entry = {
			...note?.entry,
			kind: "packet.received",
			about: "packet-7",
			data: { as_written: words },
		};
		const entries = [{ ...note, entry }] as StoredEntry[];
		const records = [packet, ...boxOf({ n: 5, packet: "packet-7" })];
		openAt("/bench/box/box-5", { today, records, entries });
		expect(await screen.findByRole("heading", { name: `Received as “${words}”` })).toBeTruthy();
	});

	test("an address that this phone does not know says so", async () => {
		openAt("/bench/box/nowhere", one);
		expect(await title()).toBe(say("bench.not-here"));
	});
});
