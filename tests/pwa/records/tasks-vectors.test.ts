// Runs the shared vectors of who is asked what; twin of tests/backend/reminders.
import { expect, test } from "vitest";
import { kinds } from "../../../pwa/src/contract/kinds";
import { plans } from "../../../pwa/src/contract/plans";
import { fold } from "../../../pwa/src/kernel/fold";
import { tasksOn } from "../../../pwa/src/records/chores";
import { RecordIndex } from "../../../pwa/src/records/shelves";
import kept from "../../vectors/tasks/kept.json";

// biome-ignore lint/suspicious/noExplicitAny: each vector gives entries of its own shape.
type Given = any;

test("the file is whole", () => {
	expect(kept.vectors.length).toBe(kept.count);
});

test.each(kept.vectors.map((v) => [v.id, v.title, v] as const))("%s %s", (_id, _title, vector) => {
	const given: Given = vector.given;
	const ids = new Set<string>(given.entries.flatMap((e: Given) => [e.about, ...(e.also ?? [])]));
	const index = new RecordIndex();
	const side = { texts: [], placeNo: null, photos: [], onlyHere: false };
	for (const id of ids) index.put({ id, record: fold(id, given.entries, kinds), side });
	const needs = {
		rules: { kinds, version: "1", plan: plans.closed_box as Given },
		plans: new Map(Object.entries(given.plans)) as Given,
		outlooks: [],
	};
	const due = tasksOn(given.on, given.for, index.view(true), needs);
	expect(due.filter((task) => task.due <= given.on).map((task) => task.id)).toEqual(vector.expect);
});
