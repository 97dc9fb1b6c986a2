/** Questions between notes: within a record, and between records. Kinds whose fields belong together are asked once. */
import { say } from "../../parts/say";
import type { CrossQuestion, FoldedRecord, Id, Json, Shelves } from "../../records/desk";
import { fieldText } from "./values";

type RecordQuestion = FoldedRecord["questions"][number];
export type FieldQuestion = Extract<RecordQuestion, { kind: string }>;

export type Asked =
	| { record: Id; of: "field"; question: FieldQuestion }
	| { record: Id; of: "sum"; sum: string; value: number }
	| { record: Id; of: "records"; cross: CrossQuestion };

/** One version is chosen as a whole: a latitude of one and a longitude of another is no place. */
const whole = new Set(["name.given", "place.fixed", "place.told", "plan.set"]);

/** The field by which a whole kind is asked about, where it differs. */
const leading: Readonly<Record<string, string>> = {
	"name.given": "taxon",
	"place.fixed": "lat_e7",
	"place.told": "lat_e7",
	"plan.set": "plan",
};

const leads = (a: FieldQuestion, b: FieldQuestion) =>
	Number(leading[b.kind] === b.field) - Number(leading[a.kind] === a.field);

export function questionsOf(records: Shelves, record: FoldedRecord): Asked[] {
	const found: Asked[] = [];
	const fields = record.questions.filter((one): one is FieldQuestion => "kind" in one).sort(leads);
	const wholes = new Set<string>();
	for (const question of fields) {
		if (wholes.has(question.kind)) continue;
		if (whole.has(question.kind)) wholes.add(question.kind);
		found.push({ record: record.id, of: "field", question });
	}
	for (const one of record.questions)
		if ("sum" in one) found.push({ record: record.id, of: "sum", sum: one.sum, value: one.value });
	for (const cross of records.crossQuestions())
		if (cross.records[0] === record.id) found.push({ record: record.id, of: "records", cross });
	return found;
}

/** All that is asked, records by label. */
export function allQuestions(records: Shelves): Asked[] {
	const within = records
		.questions()
		.flatMap((record) => questionsOf(records, record).filter(({ of }) => of !== "records"));
	const between = records.crossQuestions().flatMap((cross): Asked[] => {
		const [record] = cross.records;
		return record ? [{ record, of: "records", cross }] : [];
	});
	return [...within, ...between];
}

/** A name for it in an address. */
export function keyOf(asked: Asked): string {
	if (asked.of === "field") return `${asked.record} ${asked.question.kind} ${asked.question.field}`;
	if (asked.of === "sum") return `${asked.record} ${asked.sum}`;
	return `${asked.cross.question} ${asked.cross.value}`;
}

function fieldTitle(label: string, { kind, field }: FieldQuestion): string {
	if (kind === "name.given") return say("book.question.title.taxon", { label });
	if (kind === "place.fixed" || kind === "place.told")
		return say("book.question.title.fixed", { label });
	if (kind === "record.described" && field === "name")
		return say("book.question.title.name", { label });
	if (field === "number") return say("book.question.title.number", { label });
	if (field === "place") return say("book.question.title.place", { label });
	return say("book.question.title.other", { label, field: fieldText(field, kind) });
}

export function questionTitle(records: Shelves, asked: Asked): string {
	const label = records.labelOf(asked.record);
	if (asked.of === "sum") return say("book.question.title.sum", { label });
	if (asked.of === "field") return fieldTitle(label, asked.question);
	const { question, value } = asked.cross;
	return say(`book.question.title.${question}`, { value, label });
}

/** The values are compared as they are written: JSON texts of plain values. */
export const sameValue = (a: Json | undefined, b: Json | undefined): boolean =>
	JSON.stringify(a ?? null) === JSON.stringify(b ?? null);
