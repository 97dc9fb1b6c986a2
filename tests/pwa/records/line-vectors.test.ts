import { expect, test } from "vitest";
import { labelName, nameOf } from "../../../pwa/src/records/line";
import type { FoldedRecord } from "../../../pwa/src/sync/ports";
import labels from "../../vectors/line/labels.json";
import names from "../../vectors/line/names.json";

const record = (given: unknown) => given as FoldedRecord;

test("no vector file of the line is cut short", () => {
	expect(names.vectors.length).toBe(names.count);
	expect(labels.vectors.length).toBe(labels.count);
});

test.each(names.vectors.map((v) => [v.id, v.title, v] as const))(
	"%s %s",
	(_id, _title, { given, expect: wanted }) => {
		const all = new Map(given.records.map((one) => [one.id, record(one)]));
		const inside = (box: string) =>
			[...all.values()].filter((one) => one.fields["sowing.described"]?.box === box);
		expect(nameOf(record(all.get(given.of)), { get: (id) => all.get(id), inside })).toEqual(wanted);
	},
);

test.each(labels.vectors.map((v) => [v.id, v.title, v] as const))(
	"%s %s",
	(_id, _title, { given, expect: wanted }) => {
		expect(labelName(record(given.record))).toEqual(wanted);
	},
);
