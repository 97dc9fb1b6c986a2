import { describe, expect, test } from "vitest";
import { landOf, offerFor, plantsAround } from "../../../pwa/src/screens/field/offer";
import { record, shelvesOf } from "../gallery/records";
import { atLady, hart, onTheWay, records, today } from "./wood";

const shelves = shelvesOf(records);

describe("which plant is offered", () => {
	test("the one that the phone stands at, with its place and what belongs to it", () => {
		expect(offerFor(shelves, atLady, today, null)).toMatchObject({
			why: "near",
			plant: "lady",
			place: "ford",
			grown: "wild",
			owner: "the wood’s keeper",
			permit: "asked at the gate",
		});
	});

	test("none, where no plant is near and none was noted today", () => {
		expect(offerFor(shelves, onTheWay, today, null)).toMatchObject({
			why: "none",
			plant: null,
			place: null,
			owner: "",
		});
		expect(offerFor(shelves, null, today, null)).toMatchObject({ why: "none", plant: null });
	});

	const seenToday = record("plant", "plant 4", {
		id: "hart",
		fields: hart.fields,
		facts: { "sori.seen": `${today}T09:00:00+01:00` },
	});
	const withToday = shelvesOf([...records.filter(({ id }) => id !== "hart"), seenToday]);

	test("with no position, the plant noted last today", () => {
		expect(offerFor(withToday, null, today, null)).toMatchObject({ why: "today", plant: "hart" });
		expect(offerFor(withToday, null, "2026-08-19", null).plant).toBeNull();
	});

	test("the one that was asked for, wherever it is", () => {
		expect(offerFor(withToday, atLady, today, "scaly")).toMatchObject({
			why: "asked",
			plant: "scaly",
		});
	});

	test("a plant known to stand elsewhere is not offered for having been seen today", () => {
		const far = record("plant", "plant 2", {
			id: "scaly",
			fields: records.find(({ id }) => id === "scaly")?.fields ?? {},
			facts: { "sori.seen": `${today}T09:00:00+01:00` },
		});
		const moved = shelvesOf([...records.filter(({ id }) => id !== "scaly"), far]);
		expect(offerFor(moved, onTheWay, today, null).plant).toBeNull();
	});
});

test("plants come nearest first, those of unknown place last", () => {
	expect(plantsAround(shelves, atLady).map(({ plant }) => plant.id)).toEqual([
		"lady",
		"scaly",
		"hart",
	]);
	expect(plantsAround(shelves, null).map(({ plant }) => plant.id)).toEqual([
		"lady",
		"hart",
		"scaly",
	]);
});

test("what a place does not say is filled from the last cut there", () => {
	const bare = record("place", "the weir", { id: "weir" });
	const cut = record("gathering", "MV 9", {
		fields: {
			"record.described": {},
			"gathering.described": { number: "MV 9", place: "weir", owner: "parish", grown: "wild" },
		},
		facts: { "frond.cut": "2025-07-20" },
	});
	expect(landOf(shelvesOf([bare, cut]), "weir")).toEqual({
		grown: "wild",
		owner: "parish",
		permit: "",
		allows: "",
	});
});
