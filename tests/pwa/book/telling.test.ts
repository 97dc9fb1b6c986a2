// @vitest-environment happy-dom
import { expect, test } from "vitest";
import { versions } from "../../../pwa/src/contract/kinds";
import {
	asWritten,
	dataWith,
	dayWritten,
	firstFault,
	placeOf,
} from "../../../pwa/src/screens/book/fixes";
import { childrenOf, parentsOf, stopsOf } from "../../../pwa/src/screens/book/lineage";
import { tell } from "../../../pwa/src/screens/book/telling";
import { fieldText, valueText } from "../../../pwa/src/screens/book/values";
import { stored } from "../field/wood";
import { shelvesOf } from "../gallery/records";
import { records } from "./shelf";

const shelves = shelvesOf(records);
const say = (kind: string, data: Parameters<typeof stored>[3]) =>
	tell(shelves, stored("lady", kind, "2026-08-04", data).entry).text;

test.each(Object.keys(versions))("a note of kind %s has words, even an empty one", (kind) => {
	const words = say(kind, {});
	expect(words).not.toBe("");
	expect(words).not.toContain(kind);
});

test.each([
	["sori.seen", { ripeness: "turning" }, "sori: nearly ripe"],
	["frond.cut", { taken: "part", plants: 12 }, "part cut, from 12 plants"],
	[
		"packet.received",
		{ as_written: "Dicksonia sp.", from: "EK", year: "2017" },
		"received as “Dicksonia sp.” from EK; 2017",
	],
	[
		"gathering.described",
		{ number: "MV 27", plant: "lady", permit: null },
		"described: number: MV 27; plant: plant 3",
	],
	["record.described", { name: "plant 3", note: "by the ford" }, "called “plant 3”; by the ford"],
	["place.fixed", { lat_e7: 1, uncertainty_m: 9 }, "place fixed, good to 9 m"],
	["moss.weighed", { grams: 3 }, "a note of a newer version (moss.weighed)"],
])("%s says what was written", (kind, data, words) => {
	expect(say(kind, data)).toBe(words);
});

test("values are told as words: codes, records, spans, positions; a person's own words stay", () => {
	const value = (field: string, one: never | object | string | number | boolean | null) =>
		valueText(shelves, field, one as never);
	expect(value("plant", "lady")).toBe("plant 3");
	expect(value("grown", "wild")).toBe("wild");
	expect(value("owner", "wild")).toBe("wild");
	expect(value("colony", true)).toBe("yes");
	expect(value("note", null)).toBe("not said");
	expect(value("lat_e7", 541234000)).toBe("54.12340°");
	expect(value("packets", ["p58", "p61"])).toBe("packet 58, packet 61");
	expect(value("sure", "received")).toBe("as received");
	expect(fieldText("way", "sori.seen")).not.toBe(fieldText("way", "pots.described"));
});

test("the line up and down: plant, collection, packet, box", () => {
	const get = (id: string) => shelves.get(id) as (typeof records)[number];
	const ids = (found: { id: string }[]) => found.map(({ id }) => id);
	expect(ids(parentsOf(shelves, get("mv27")))).toEqual(["lady"]);
	expect(ids(childrenOf(shelves, get("mv27")))).toEqual(["p58"]);
	expect(ids(childrenOf(shelves, get("p58")))).toEqual(["box-17"]);
	expect(ids(parentsOf(shelves, get("box-17")))).toEqual(["p58"]);
	const stops = stopsOf(shelves, get("p58"), "2026-08-18");
	expect(stops.map(({ label, here }) => [label, here])).toEqual([
		["plant 3", false],
		["MV 27", false],
		["packet 58", true],
		["box 17", false],
	]);
	expect(stops.map(({ year }) => year)).toEqual([undefined, "2025", undefined, undefined]);
});

test("a fault with a place comes before one about the whole", () => {
	const fault = (where: string | null) => ({ code: "x", where, message: "", fix: null });
	expect(placeOf(fault("data.ripeness"))).toEqual({ part: "data", field: "ripeness" });
	expect(placeOf(fault("data.quiet.from"))).toEqual({ part: "data", field: "quiet" });
	expect(placeOf(fault("at"))).toEqual({ part: "at" });
	expect(placeOf(fault("span.to"))).toEqual({ part: "at" });
	expect(placeOf(fault(null))).toEqual({ part: "whole" });
	expect(firstFault([fault(null), fault("at")])?.where).toBe("at");
	expect(firstFault([])).toBeNull();
});

test("the day in a stamp, and a field put right or left out", () => {
	expect(dayWritten("019de28d3c00-00000000-00000000000000a1")).toBe("2026-05-01");
	expect(dayWritten("000000000000-00000000-00000000000000a1")).toBeNull();
	expect(dayWritten("")).toBeNull();
	const { entry } = stored("lady", "frond.cut", "2026-08-04", { taken: "pinna", plants: 0 });
	expect(dataWith(entry, "plants", 3)).toEqual({ taken: "pinna", plants: 3 });
	expect(dataWith(entry, "plants", undefined)).toEqual({ taken: "pinna" });
	expect(asWritten(" 12 ", 0)).toBe(12);
	expect(asWritten("12", "twelve")).toBe("12");
	expect(asWritten("a dozen", 0)).toBe("a dozen");
});
