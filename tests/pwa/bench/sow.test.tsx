// @vitest-environment happy-dom
import { cleanup, fireEvent, screen, waitFor } from "@testing-library/preact";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { hideSaved } from "../../../pwa/src/parts/saved-strip";
import { say } from "../../../pwa/src/parts/say";
import {
	freshForm,
	nextForm,
	reopened,
	type SowForm,
	sowInput,
	stepNow,
	stepsOf,
} from "../../../pwa/src/screens/bench/sow-form";
import { callsOf, openAt, tap } from "../gallery/open";
import { named, record } from "../gallery/records";
import { today } from "../gallery/scenes";

beforeEach(hideSaved);
afterEach(cleanup);

const full: SowForm = {
	...freshForm(today, "box 31"),
	packets: ["p1"],
	shelf: "north",
	mixAsked: true,
	mix: "m7",
	clean: true,
	density: "right",
	labelled: true,
};

describe("the form of a sowing day", () => {
	test("asks one thing after the other, and saves only at the end", () => {
		let form = freshForm(today, "box 31");
		const asked: string[] = [];
		const answers: Partial<SowForm>[] = [
			{ packets: ["p1"] },
			{ shelf: "north" },
			{ mixAsked: true },
			{ clean: true },
			{ density: "thin" },
			{ labelled: true },
		];
		for (const answer of answers) {
			asked.push(stepNow(form));
			form = { ...form, ...answer };
		}
		expect(asked).toEqual(["packet", "shelf", "mix", "clean", "density", "label"]);
		expect(stepNow(form)).toBe("close");
	});

	test("a step that is asked again forgets only its own answer", () => {
		for (const step of stepsOf(full).slice(0, -1)) {
			const again = { ...full, ...reopened(full, step) };
			expect(stepNow(again)).toBe(step);
			expect(
				stepsOf(again).filter((one) => stepNow({ ...full, ...reopened(full, one) }) !== one),
			).toEqual(["close"]);
		}
	});

	test("hands the verb what was said, under the number on the label", () => {
		expect(sowInput(full)).toEqual({
			packets: ["p1"],
			boxName: "box 31",
			shelf: "north",
			mix: "m7",
			density: "right",
		});
	});

	test("a mix that stays unsaid and an empty control are left out, not made up", () => {
		expect(sowInput({ ...full, mix: null, control: true, packets: [], density: null })).toEqual({
			packets: [],
			boxName: "box 31",
			shelf: "north",
			control: true,
		});
	});

	test("an unsown control has no density", () => {
		expect(stepsOf({ ...full, control: true })).not.toContain("density");
	});

	test("two mixed on purpose are two packets in one sowing", () => {
		const two: SowForm = { ...full, sharing: "together" };
		expect(stepNow(two)).toBe("packet");
		expect(sowInput({ ...two, packets: ["p1", "p2"] })).toMatchObject({
			packets: ["p1", "p2"],
			together: true,
		});
	});

	test("two halves are two sowings in one box, a and b, and the second asks for no shelf", () => {
		const first: SowForm = { ...full, sharing: "halves" };
		expect(sowInput(first)).toMatchObject({ boxName: "box 31", part: "a" });
		const second = nextForm(first, "box-new", "box 32");
		expect(second.half).toEqual({ box: "box-new", label: "box 31" });
		expect(stepsOf(second)).not.toContain("shelf");
		const input = sowInput({ ...second, packets: ["p2"] });
		expect(input).toMatchObject({ box: "box-new", part: "b", packets: ["p2"] });
		expect(input).not.toHaveProperty("boxName");
		expect(nextForm({ ...second, packets: ["p2"] }, "box-new", "box 32").half).toBeNull();
	});

	test("the next box keeps shelf, mix and the clean bench, and takes the next number", () => {
		expect(nextForm(full, "box-new", "box 32")).toEqual({
			...freshForm(today, "box 32"),
			shelf: "north",
			mix: "m7",
			mixAsked: true,
			clean: true,
			sown: 1,
		});
	});
});

const packet = (n: number) =>
	record("packet", `packet ${n}`, { fields: { "name.given": named("Osmunda regalis") } });
const shelf = record("shelf", "north shelf", { id: "north" });

describe("the screen of a sowing day", () => {
	test("from packet to saved box, with its number before saving", async () => {
		const desk = openAt("/bench/sow", { today, records: [shelf, packet(61)] });
		await tap(/^Packet 61/);
		expect(screen.getByText("31", { selector: ".number b" })).toBeTruthy();
		await tap(/^North shelf/);
		await tap(/^Not noted/);
		await tap(/^Clean/);
		await tap(/^About 15/);
		expect(callsOf(desk, "sow")).toEqual([]);
		await tap(/^Labelled/);
		await tap(/^Save box 31/);
		await screen.findByText(say("bench.sow.saved", { box: "box 31" }));
		expect(callsOf(desk, "sow")).toEqual([
			[{ packets: ["packet-61"], boxName: "box 31", shelf: "north", density: "right" }],
		]);
		expect(await screen.findByText(say("bench.sow.when-sown", { n: 1 }))).toBeTruthy();
	});

	test("a shelf is made in one tap and taken", async () => {
		const desk = openAt("/bench/sow?packet=packet-61", { today, records: [packet(61)] });
		await tap(/^A new sill/);
		await waitFor(() =>
			expect(callsOf(desk, "makeShelf")).toEqual([
				[{ name: "sill", stands: "sill", light: "window" }],
			]),
		);
		await screen.findByText(say("bench.sow.ask-mix"));
	});

	test("a form that could not be saved keeps all that is in it", async () => {
		const desk = openAt("/bench/sow?packet=packet-61", {
			today,
			records: [shelf, packet(61)],
			failing: { code: "storage-full" },
		});
		await tap(/^North shelf/);
		await tap(/^Not noted/);
		await tap(/^Clean/);
		await tap(/^About 50/);
		await tap(/^Labelled/);
		await tap(/^Save box 31/);
		await screen.findByRole("alert");
		expect(screen.getByRole("button", { name: /^Save box 31/ })).toBeTruthy();
		expect(callsOf(desk, "sow")).toHaveLength(1);
	});

	test("a half-filled form is found again on its day", async () => {
		const left = { ...freshForm(today, "box 31"), packets: ["packet-61"], shelf: "north" };
		openAt("/bench/sow", { today, records: [shelf, packet(61)], drafts: { sow: left } });
		expect(await screen.findByText(say("bench.sow.ask-mix"))).toBeTruthy();
	});

	test("on the next day the sitting begins anew, and the number is one that is free", async () => {
		const left = { ...full, day: "2026-08-17", number: "box 29", sown: 3 };
		openAt("/bench/sow", { today, records: [shelf, packet(61)], drafts: { sow: left } });
		expect(await screen.findByText(say("bench.sow.ask-packet"))).toBeTruthy();
		await screen.findByText("31", { selector: ".number b" });
	});

	test("a number that was used since the form was left is not offered again", async () => {
		const left = { ...freshForm(today, "box 29"), packets: ["packet-61"] };
		openAt("/bench/sow", { today, records: [shelf, packet(61)], drafts: { sow: left } });
		await screen.findByText("31", { selector: ".number b" });
		expect(screen.getByText(say("bench.sow.ask-shelf"))).toBeTruthy();
	});
});

describe("a shelf as it stands today", () => {
	test("number, fern if known, and what grows: no packet, no day of sowing", async () => {
		const desk = openAt("/bench/here", { today, records: [shelf] });
		await tap(/^North shelf/);
		fireEvent.input(await screen.findByLabelText(say("bench.here.fern")), {
			target: { value: "Osmunda regalis" },
		});
		await tap("green film");
		await screen.findByText(say("bench.here.saved", { box: "box 31" }));
		expect(callsOf(desk, "sow")).toEqual([
			[
				{
					packets: [],
					already: true,
					boxName: "box 31",
					shelf: "north",
					naming: { taxon: "Osmunda regalis", sure: "received" },
				},
			],
		]);
		await waitFor(() => expect(callsOf(desk, "seeGrowth")).toEqual([["sowing-new", "green_film"]]));
	});

	test("an unknown fern needs no name; a number of its own is kept as written", async () => {
		const desk = openAt("/bench/here", { today, records: [shelf] });
		await tap(/^North shelf/);
		fireEvent.input(await screen.findByLabelText(say("bench.here.label")), {
			target: { value: "blue tub 7" },
		});
		await tap("nothing yet");
		await waitFor(() =>
			expect(callsOf(desk, "sow")).toEqual([
				[{ packets: [], already: true, boxName: "blue tub 7", shelf: "north" }],
			]),
		);
	});
});
