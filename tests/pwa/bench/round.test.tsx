// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from "@testing-library/preact";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { route } from "../../../pwa/src/parts/route";
import { hideSaved } from "../../../pwa/src/parts/saved-strip";
import { say } from "../../../pwa/src/parts/say";
import { nextGrowth, roundBoxes } from "../../../pwa/src/screens/bench/round-state";
import { callsOf, openAt, tap, title } from "../gallery/open";
import { boxOf, record, shelvesOf } from "../gallery/records";
import { task, today } from "../gallery/scenes";

beforeEach(hideSaved);
afterEach(cleanup);

const shelf = (walked: string) =>
	record("shelf", "north shelf", { id: "north", facts: { "shelf.walked": walked } });
const boxes = [
	...boxOf({
		n: 1,
		shelf: "north",
		taxon: "Osmunda regalis",
		growth: ["green_film", "2026-08-11"],
	}),
	...boxOf({ n: 2, shelf: "north", taxon: "Osmunda regalis", growth: ["prothalli", today] }),
	...boxOf({
		n: 3,
		shelf: "north",
		taxon: "Osmunda regalis",
		trouble: ["mould", `${today}T08:10:00+01:00`],
	}),
	...boxOf({ n: 4, shelf: "north", taxon: "Osmunda regalis", trouble: ["mould", "2026-08-01"] }),
	...boxOf({ n: 5, shelf: "north", taxon: "Osmunda regalis", growth: ["nothing", today] }),
];
const own = task({ subject: "box-1", rule: "green-film" });
const round = task({ subject: "north", rule: "round", ask: ["as_before", "later"] });

test("a box is different when something is new today; a card of its own needs a question that is due", () => {
	const ahead = { ...own, subject: "box-5", due: "2026-09-09" };
	const shown = roundBoxes(shelvesOf(boxes), "north", [own, ahead, round], today);
	expect(shown.map(({ number, growth, seen, own }) => [number, growth, seen, own])).toEqual([
		["1", "green_film", undefined, true],
		["2", "prothalli", "growth-prothalli", false],
		["3", "nothing", "trouble-mould", false],
		["4", "nothing", undefined, false],
		["5", "nothing", undefined, false],
	]);
});

test("the likeliest new thing is the next stage", () => {
	expect(nextGrowth("nothing")).toBe("green_film");
	expect(nextGrowth("green_film")).toBe("prothalli");
	expect(nextGrowth("prothalli")).toBe("first_fronds");
});

describe("the round of a shelf", () => {
	const before = { today, records: [shelf("2026-08-11"), ...boxes], tasks: [own, round] };
	const after = { today, records: [shelf(`${today}T08:12:00+01:00`), ...boxes], tasks: [own] };

	test("all as before is the one answer of the task that is due", async () => {
		const desk = openAt("/bench/shelf/north", before);
		await tap(/^All as before/);
		await waitFor(() => expect(callsOf(desk, "answer")).toEqual([[round, "as_before", {}]]));
		expect(callsOf(desk, "walkShelf")).toEqual([]);
	});

	test("where no round is due, it can be walked all the same", async () => {
		const desk = openAt("/bench/shelf/north", {
			...before,
			tasks: [{ ...round, due: "2026-08-25" }],
		});
		await tap(/^All as before/);
		await waitFor(() => expect(callsOf(desk, "walkShelf")).toEqual([["north"]]));
	});

	test("after it, the odd ones are tapped, and each is one more tap", async () => {
		const desk = openAt("/bench/shelf/north", after);
		expect(await title()).toBe("Tap the odd ones");
		expect(screen.getByText(/4 looks noted 8:12/)).toBeTruthy();
		await tap("box 5");
		await tap("green film");
		await waitFor(() => expect(callsOf(desk, "seeGrowth")).toEqual([["sowing-5", "green_film"]]));
		await screen.findByRole("button", { name: /^Done: 2 different/ });
	});

	test("a trouble of an odd one; as before takes the tap back", async () => {
		const desk = openAt("/bench/shelf/north", after);
		await tap("box 2");
		await tap(say("bench.odd.as-before"));
		await tap("box 4");
		await tap("too wet");
		await waitFor(() => expect(callsOf(desk, "beginTrouble")).toEqual([["box-4", "too_wet"]]));
		expect(callsOf(desk, "seeGrowth")).toEqual([]);
	});

	test("where every box has a question of its own, nothing is there to be walked", async () => {
		const tasks = [1, 2, 3, 4, 5].map((n) => task({ subject: `box-${n}`, rule: "green-film" }));
		openAt("/bench/shelf/north", { ...before, tasks });
		expect(await title()).toBe(say("bench.round.title-own"));
		expect(screen.queryByRole("button", { name: /^All as before/ })).toBeNull();
	});

	test("a box with a card of its own opens its screen", async () => {
		openAt("/bench/shelf/north", after);
		await tap("box 1");
		expect(route.value.path).toBe("/bench/box/box-1");
	});
});
