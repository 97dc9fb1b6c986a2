// The shapes that go into the fold and come out of it. Plain JSON, the same in both languages.

export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };
export type Data = { [field: string]: Json };

/**
 * An entry as it stands on the wire, with `state` and `received` (ms; absent or null: not yet
 * received by a server) beside it. One that is not held has passed the checks of its envelope and
 * schema; a held one may have any shape beyond a readable `id`, `kind` and `about`.
 */
export interface FoldEntry {
	id: string;
	kind: string;
	v: number;
	about: string;
	also?: string[];
	at: string;
	span?: { to: string; said: string };
	made: string;
	data: Data;
	seen?: { [field: string]: string[] };
	state?: string;
	received?: number | null;
}

/** Which state a fact sets: `name`, or `name:{data[by]}`; to `value`, else `data[field]`, else the whole `data`. */
export interface StateRule {
	name: string;
	by?: string;
	field?: string;
	value?: Json;
}

/** What the kernel must know of a kind; made from the registry of kinds. */
export interface KindView {
	v: readonly number[];
	nature: "fact" | "description" | "strike";
	state?: StateRule;
	sums?: { [sum: string]: string };
	implies?: string;
}

export type Kinds = { readonly [kind: string]: KindView };

/** `to`: the last day of a vague date (`span`); what waits is counted from it. */
export interface Dated {
	entry: string;
	at: string;
	to?: string;
}

/** `at`: when it was last seen so. `since`: `at` of the first fact of the present run. */
export interface State {
	value: Json;
	at: string;
	since: string;
	entry: string;
}

export type Question =
	| { kind: string; field: string; heads: string[]; values: Json[] }
	| { sum: string; value: number };

/**
 * What all entries about a record amount to. Every entry filed here is in exactly one of `facts`,
 * `struck`, `held`, `unknown`, or is a live description or strike.
 */
export interface FoldedRecord {
	id: string;
	type: string | null;
	fields: { [kind: string]: { [field: string]: Json } };
	heads: { [kind: string]: { [field: string]: string[] } };
	questions: Question[];
	facts: string[];
	struck: string[];
	held: string[];
	unknown: string[];
	states: { [name: string]: State };
	first: { [kind: string]: Dated };
	last: { [kind: string]: Dated };
	sums: { [name: string]: number };
}

/** By UTF-16 code units; all sort keys of the kernel but field names are ASCII. */
export function compareText(one: string, other: string): number {
	return one < other ? -1 : one > other ? 1 : 0;
}
