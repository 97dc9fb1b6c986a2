/** What may put a note right that cannot count: the likeliest answer first, with its reason. */
import { choices } from "../../contract/kinds";
import { fromDay } from "../../kernel/days";
import type { EntryFault, Json, StoredEntry } from "../../records/desk";

type Entry = StoredEntry["entry"];

/** Which part of a note is wrong. */
export type Place = { part: "at" } | { part: "data"; field: string } | { part: "whole" };

/** `at`, `span.to` are its day; `data.ripeness` is a field; anything else is the note itself. */
export function placeOf({ where }: EntryFault): Place {
	if (where === "at" || where?.startsWith("span")) return { part: "at" };
	const field = /^data\.([a-z_0-9]+)/.exec(where ?? "")?.[1];
	return field ? { part: "data", field } : { part: "whole" };
}

/** The fault that is answered first: one with a place, before one about the whole. */
export function firstFault(errors: readonly EntryFault[]): EntryFault | null {
	return errors.find((fault) => placeOf(fault).part !== "whole") ?? errors[0] ?? null;
}

const dayMs = 86_400_000;

/** The day in a stamp (12 hex digits of ms come first), in UTC: a stamp has no zone. */
export function dayWritten(made: string): string | null {
	const ms = Number.parseInt(made.slice(0, 12), 16);
	return Number.isFinite(ms) && ms > 0 ? fromDay(Math.floor(ms / dayMs)) : null;
}

/** The codes that a field may have, where it is one of some. */
export function choicesFor(entry: Entry, field: string): readonly string[] {
	return (choices as Readonly<Record<string, readonly string[]>>)[`${entry.kind}.${field}`] ?? [];
}

/** The data with one field put right, or left out. */
export function dataWith(entry: Entry, field: string, value: Json | undefined): Entry["data"] {
	const { [field]: _, ...rest } = entry.data;
	return value === undefined ? rest : { ...rest, [field]: value };
}

/** A value as it was written, kept of the kind it was: a number stays one where it can. */
export function asWritten(text: string, before: Json | undefined): Json {
	const said = text.trim();
	const wasNumber = typeof before === "number" || before === undefined;
	return wasNumber && /^-?\d+$/.test(said) ? Number(said) : said;
}
