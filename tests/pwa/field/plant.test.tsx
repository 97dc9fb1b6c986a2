// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from "@testing-library/preact";
import { afterEach, expect, test } from "vitest";
import { route } from "../../../pwa/src/parts/route";
import { headingOf } from "../../../pwa/src/screens/field/heading";
import { open, tap, told, write } from "./opened";
import { atLady, lady, onTheWay, records, woodDesk } from "./wood";

afterEach(cleanup);

test("find again: how far, which way, how good the place is", async () => {
	open(woodDesk({}, onTheWay), "/field/plant/lady");
	await screen.findByRole("img", { name: "The plant is 340 m away to the North-east" });
	expect(document.body.textContent).toContain("the plant’s place is good to 8 m");
});

test("with no position it says so, and with a place in words only it says how to keep one", async () => {
	open(woodDesk(), "/field/plant/lady");
	await screen.findByText(/Where you are is not known yet/);
	open(woodDesk(), "/field/plant/hart");
	await screen.findByText(/Its place is known in words only/);
});

test("a look at the sori is two taps, and says what was written", async () => {
	const desk = woodDesk({}, atLady);
	open(desk, "/field/plant/lady");
	await tap(/I am at the plant/);
	await tap("Cut now");
	await waitFor(() =>
		expect(told(desk, "seeSori")).toEqual([[{ plant: "lady", ripeness: "ripe", way: "eye" }]]),
	);
	await screen.findByText(/plant 3: ripe\./);
});

test("gone: kept beside what the note says already", async () => {
	const noted = {
		...lady,
		fields: { ...lady.fields, "record.described": { name: "plant 3", note: "by the root plate" } },
	};
	const desk = woodDesk({ records: [...records.filter(({ id }) => id !== "lady"), noted] }, atLady);
	open(desk, "/field/plant/lady");
	await tap(/Not there, or gone/);
	await tap("It is gone");
	await waitFor(() => expect(told(desk, "describe")).toHaveLength(1));
	const [about, kind, data] = told(desk, "describe")[0] ?? [];
	expect([about, kind]).toEqual(["lady", "record.described"]);
	expect((data as { note: string }).note).toMatch(/^by the root plate\nGone, seen on .*18/);
});

test("a plant is logged with nothing but a tap, or with what is known", async () => {
	const desk = woodDesk({}, atLady);
	open(desk, "/field/plant");
	await tap(/Save the plant/);
	await waitFor(() => expect(told(desk, "logPlant")).toEqual([[{}]]));
	const other = woodDesk({}, atLady);
	open(other, "/field/plant");
	await write("Name of the plant", "the big one");
	await tap("many");
	await tap("Come back");
	await tap(/Save the plant/);
	await waitFor(() =>
		expect(told(other, "logPlant")).toEqual([
			[{ name: "the big one", colony: true, ripeness: "young" }],
		]),
	);
	expect(route.value.path).toBe("/field");
});

test("the heading is taken from sensors that know north, and from no others", () => {
	const turned = (over: object) => ({ absolute: false, alpha: null, ...over }) as never;
	expect(headingOf(turned({ webkitCompassHeading: 52 }))).toBe(52);
	expect(headingOf(turned({ absolute: true, alpha: 308 }))).toBe(52);
	expect(headingOf(turned({ absolute: true, alpha: 0 }))).toBe(0);
	expect(headingOf(turned({ absolute: false, alpha: 308 }))).toBeNull();
	expect(headingOf(turned({ absolute: true }))).toBeNull();
});
