// What an answer makes.

import { expect, test } from "vitest";
import text from "../../../backend/sporeline/contract/plans/closed_box.json?raw";
import { answerEntries } from "../../../pwa/src/kernel/answer";
import type { CarePlan, Task } from "../../../pwa/src/kernel/due";
import { fold } from "../../../pwa/src/kernel/fold";
import type { FoldedRecord } from "../../../pwa/src/kernel/record";

const plan: CarePlan = JSON.parse(text);
const box = fold("B", [], {});

function task(rule: string, covers: string[], subject = "B"): Task {
	const ask = plan.rules.find((each) => each.rule === rule)?.ask ?? [];
	const id = `${subject}/${rule}/2026-05-01`;
	return { id, subject, rule, due: "2026-05-15", until: null, ask, from_outlook: false, covers };
}

function withCover(cover: string): FoldedRecord {
	const at = "2026-05-01";
	return { ...box, states: { cover: { value: cover, at, since: at, entry: "e" } } };
}

const first = task("first-look", ["S", "S2"]);

test("a look is made about each sowing, and files the box", () => {
	expect(answerEntries(plan, first, "nothing", box)).toStrictEqual([
		{ kind: "growth.seen", about: "S", also: ["B"], data: { growth: "nothing" } },
		{ kind: "growth.seen", about: "S2", also: ["B"], data: { growth: "nothing" } },
	]);
});

test("an answer for one fern of two names that one", () => {
	expect(answerEntries(plan, first, "mould", box, { sowings: ["S2"] })).toStrictEqual([
		{ kind: "trouble.begun", about: "B", data: { trouble: "mould" } },
		{ kind: "task.answered", about: "B", also: ["S2"], data: { task: first.id, answer: "mould" } },
	]);
});

test("later keeps its day, and its day only", () => {
	const until = "2026-05-20";
	expect(answerEntries(plan, first, "later", box, { until })).toStrictEqual([
		{
			kind: "task.answered",
			about: "B",
			also: ["S", "S2"],
			data: { task: first.id, answer: "later", until },
		},
	]);
	expect(answerEntries(plan, first, "later", box)[0]?.data).not.toHaveProperty("until");
});

test("a round is one entry that names its boxes", () => {
	const round = task("round", ["B", "B2"], "K");
	expect(answerEntries(plan, round, "as_before", fold("K", [], {}))).toStrictEqual([
		{ kind: "shelf.walked", about: "K", also: ["B", "B2"], data: {} },
	]);
});

test("a round of more boxes than an entry may name is cut into parts", () => {
	const boxes = Array.from({ length: 401 }, (_, i) => `B${i}`);
	const made = answerEntries(plan, task("round", boxes, "K"), "as_before", fold("K", [], {}));
	expect(made.map(({ also }) => also?.length)).toStrictEqual([200, 200, 1]);
	expect(made.flatMap(({ also }) => also)).toStrictEqual(boxes);
});

test.each([
	["matchstick", "up", "pencil"],
	["off_at_night", "up", "off"],
	["matchstick", "limp", "closed"],
	["pencil", "limp", "closed"],
	["half", "limp", "pencil"],
])("hardening off at %s, %s: %s", (now, code, then) => {
	const made = answerEntries(plan, task("hardening-off", []), code, withCover(now));
	expect(made.at(-1)).toStrictEqual({ kind: "cover.set", about: "B", data: { cover: then } });
});

test("no step from a lid that is closed, off or unknown", () => {
	const hardening = task("hardening-off", []);
	for (const record of [withCover("closed"), withCover("off"), box]) {
		expect(answerEntries(plan, hardening, "up", record)).toStrictEqual([]);
	}
});

test("an answer or a rule that the plan does not know makes nothing", () => {
	expect(answerEntries(plan, first, "constructor", box)).toStrictEqual([]);
	expect(answerEntries(plan, task("watering", ["S"]), "done", box)).toStrictEqual([]);
});

test("every answer of the shipped plan makes something", () => {
	for (const { rule, ask } of plan.rules) {
		for (const code of ask) {
			expect(answerEntries(plan, task(rule, ["S"]), code, withCover("half")), code).not.toEqual([]);
		}
	}
});
