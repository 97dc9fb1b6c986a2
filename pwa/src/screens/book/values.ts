/** A field of a note and its value, as words. */
import { isTextKey, say } from "../../parts/say";
import type { Json, Shelves } from "../../records/desk";

/** Fields whose values are codes, and where their words stand. */
const coded: Readonly<Record<string, string>> = {
	ripeness: "field.seen",
	grown: "field.grown",
	taken: "field.taken",
	growth: "parts.growth",
	cover: "parts.cover",
	trouble: "parts.trouble",
	density: "parts.density",
	answer: "parts.answer",
	sure: "book.sure",
	source: "book.value",
	audience: "book.value",
	what: "field.received",
};

/** A field's word; where two kinds mean different things by one field, the kind's own. */
export function fieldText(field: string, kind: string): string {
	const keys = [`book.field.${kind}.${field}`, `book.field.${field}`];
	const key = keys.find(isTextKey);
	return key ? say(key) : field.replaceAll("_", " ");
}

/** What kind of note, in words: "sori seen" of sori.seen. */
export const kindText = (kind: string): string => kind.replace(/[._]/g, " ");

function codeText(field: string, value: string): string {
	const keys = [`${coded[field] ?? "book.value"}.${value}`, `plans.answer.${value}`];
	const key = keys.find(isTextKey);
	return key ? say(key) : value.replaceAll("_", " ");
}

/** Code words have no spaces; what a person wrote is left as it is. */
const isCode = (field: string, value: string) => field in coded && /^[a-z_]+$/.test(value);

const idLike = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12}$/;

export function valueText(records: Shelves, field: string, value: Json): string {
	if (value === null || value === "") return say("book.value.nothing");
	if (typeof value === "boolean") return say(value ? "book.value.yes" : "book.value.no");
	if (typeof value === "number") return degrees(field, value);
	if (Array.isArray(value)) return value.map((one) => valueText(records, field, one)).join(", ");
	if (typeof value === "object") return objectText(records, value);
	if (isCode(field, value)) return codeText(field, value);
	return records.get(value) || idLike.test(value) ? records.labelOf(value) : value;
}

/** Positions are kept in 1e-7 degrees. */
const degrees = (field: string, value: number) =>
	field.endsWith("_e7") ? `${(value / 1e7).toFixed(5)}°` : String(value);

function objectText(records: Shelves, value: { [key: string]: Json }): string {
	return Object.entries(value)
		.map(([key, one]) =>
			key === "person"
				? valueText(records, key, one)
				: `${fieldText(key, "")} ${valueText(records, key, one)}`,
		)
		.join(" ");
}
