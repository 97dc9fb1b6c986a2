// The fold: what all entries about one record amount to.
//
// Pure: no clock, no zone data, no other record. The same entries give the same record, in whatever
// order, split or number of copies they arrive. The rules are numbered as in the design of the
// logbook: 1 standing, 2 live, 3 stamp, 4 descriptions, 5 facts.

import { canonical, sameValue } from "./canonical";
import { mergeStamp } from "./clock";
import { put } from "./grouping";
import { headsOf, linksOf } from "./heads";
import {
	compareText,
	type Data,
	type Dated,
	type FoldEntry,
	type FoldedRecord,
	type Json,
	type Kinds,
	type KindView,
	type Question,
	type State,
	type StateRule,
} from "./record";
import { struckIds } from "./standing";

type Here = ReadonlyMap<string, FoldEntry>;

interface Live {
	/** Sorts as text by day, time of day, stamp, id (ASCII). */
	order: string;
	/** Stamp and id. */
	stamp: string;
	entry: FoldEntry;
	view: KindView;
}

interface SortedOut {
	live: Live[];
	struck: string[];
	held: string[];
	unknown: string[];
}

/**
 * The record that the entries filed under `recordId` amount to. Entries filed elsewhere are left
 * out; copies of an entry count once. `kinds`: the kinds and versions this side knows.
 */
export function fold(recordId: string, entries: Iterable<FoldEntry>, kinds: Kinds): FoldedRecord {
	const here = distinct(recordId, entries);
	const { live, struck, held, unknown } = sortOut(here, kinds);
	const facts = live.filter((one) => one.view.nature === "fact");
	facts.sort((one, other) => compareText(one.order, other.order));
	const descriptions = live.filter((one) => one.view.nature === "description");
	descriptions.sort((one, other) => compareText(one.stamp, other.stamp));
	const sums = sumsOf(facts);
	const described = describe(descriptions, here);
	return {
		id: recordId,
		type: typeOf(recordId, descriptions, facts),
		fields: described.fields,
		heads: described.heads,
		questions: [...described.questions, ...belowZero(sums)],
		facts: facts.map((fact) => fact.entry.id),
		struck,
		held,
		unknown,
		states: statesOf(facts),
		first: lastOfEach(facts.toReversed()),
		last: lastOfEach(facts),
		sums: Object.fromEntries(sums),
	};
}

function distinct(recordId: string, entries: Iterable<FoldEntry>): Map<string, FoldEntry> {
	const here = new Map<string, FoldEntry>();
	for (const entry of entries) {
		const also: unknown = entry.also;
		if (entry.about !== recordId && !(Array.isArray(also) && also.includes(recordId))) continue;
		const known = here.get(entry.id);
		here.set(entry.id, known ? oneOf(known, entry) : entry);
	}
	return here;
}

/** Copies of an entry may differ in what stands beside it: held wins, the earliest receipt wins. */
function oneOf(copy: FoldEntry, other: FoldEntry): FoldEntry {
	const receipts = [copy.received, other.received].filter((each) => typeof each === "number");
	const held = copy.state === "held" || other.state === "held";
	return {
		...copy,
		received: receipts.length > 0 ? Math.min(...receipts) : null,
		state: held ? "held" : "stored",
	};
}

/** Rules 1 to 3: puts by what counts nowhere, and gives the rest with their stamps. */
function sortOut(here: Here, kinds: Kinds): SortedOut {
	const struckOut = struckIds(here);
	const sorted: SortedOut = { live: [], struck: [], held: [], unknown: [] };
	for (const [id, entry] of here) {
		const view = Object.hasOwn(kinds, entry.kind) ? kinds[entry.kind] : undefined;
		if (struckOut.has(id)) sorted.struck.push(id);
		else if (entry.state === "held") sorted.held.push(id);
		else if (!view?.v.includes(entry.v)) sorted.unknown.push(id);
		else sorted.live.push(liveEntry(entry, view));
	}
	for (const putBy of [sorted.struck, sorted.held, sorted.unknown]) putBy.sort();
	return sorted;
}

/** All parts of the sort keys have a fixed width, so that joined they sort as they do apart. */
function liveEntry(entry: FoldEntry, view: KindView): Live {
	const stamp = `${mergeStamp(entry.made, entry.received)} ${entry.id}`;
	const time = entry.at.slice(11, 19) || "24:00:00";
	return { order: `${entry.at.slice(0, 10)} ${time} ${stamp}`, stamp, entry, view };
}

interface Described {
	fields: FoldedRecord["fields"];
	heads: FoldedRecord["heads"];
	questions: Question[];
}

/** Rule 4. Newest first, so that the first head of a field is the one shown. */
function describe(descriptions: readonly Live[], here: Here): Described {
	const linking = [...here.values()].filter((entry) => entry.seen);
	const fields = new Map<string, { [field: string]: Json }>();
	const heads = new Map<string, { [field: string]: string[] }>();
	const questions: Question[] = [];
	const byKind = grouped(descriptions.toReversed(), (one) => [one.entry.kind]);
	for (const [kind, ofKind] of inOrder(byKind)) {
		const kept = inOrder(grouped(ofKind, (one) => Object.keys(one.entry.data))).map(
			([field, candidates]) => [field, headsAmong(field, candidates, linking)] as const,
		);
		fields.set(
			kind,
			Object.fromEntries(kept.map(([field, [shown]]) => [field, valueIn(shown, field)])),
		);
		heads.set(
			kind,
			Object.fromEntries(kept.map(([field, all]) => [field, all.map((one) => one.entry.id)])),
		);
		questions.push(...kept.flatMap(([field, all]) => question(kind, field, all)));
	}
	return { fields: Object.fromEntries(fields), heads: Object.fromEntries(heads), questions };
}

function headsAmong(field: string, candidates: Live[], linking: FoldEntry[]): Live[] {
	if (candidates.length === 1) return candidates;
	const ids = candidates.map((one) => one.entry.id);
	const heads = new Set(headsOf(ids, linksOf(field, linking)));
	return candidates.filter((one) => heads.has(one.entry.id));
}

/** Heads with more than one distinct value are a question; `null` is a value too. */
function question(kind: string, field: string, heads: Live[]): Question[] {
	if (heads.length === 1) return [];
	const values = new Map<string, Json>();
	for (const one of heads) {
		const value = valueIn(one, field);
		if (!values.has(canonical(value))) values.set(canonical(value), value);
	}
	if (values.size === 1) return [];
	return [{ kind, field, heads: heads.map((one) => one.entry.id), values: [...values.values()] }];
}

function valueIn(one: Live | undefined, field: string): Json {
	return one?.entry.data[field] as Json;
}

function grouped(all: Iterable<Live>, keysOf: (one: Live) => string[]): Map<string, Live[]> {
	const groups = new Map<string, Live[]>();
	for (const one of all) for (const key of keysOf(one)) put(groups, key, one);
	return groups;
}

function inOrder(groups: Map<string, Live[]>): [string, Live[]][] {
	return [...groups].sort(([one], [other]) => compareText(one, other));
}

/** Rule 5: a state is that of the last fact that sets it. */
function statesOf(facts: readonly Live[]): FoldedRecord["states"] {
	const states = new Map<string, State>();
	for (const { entry, view } of facts) {
		const set = view.state && whatIsSet(view.state, entry.data);
		if (!set) continue;
		const before = states.get(set.name);
		const since = before && sameValue(before.value, set.value) ? before.since : entry.at;
		states.set(set.name, { value: set.value, at: entry.at, since, entry: entry.id });
	}
	return Object.fromEntries(states);
}

function whatIsSet(rule: StateRule, data: Data): { name: string; value: Json } | null {
	const by = rule.by === undefined ? "" : own(data, rule.by);
	const value = rule.value ?? (rule.field === undefined ? data : own(data, rule.field));
	if (typeof by !== "string" || value === undefined) return null;
	return { name: rule.by === undefined ? rule.name : `${rule.name}:${by}`, value };
}

function own(data: Data, field: string): Json | undefined {
	return Object.hasOwn(data, field) ? data[field] : undefined;
}

function lastOfEach(facts: readonly Live[]): { [kind: string]: Dated } {
	const latest = new Map(facts.map(({ entry }) => [entry.kind, entry]));
	return Object.fromEntries([...latest].map(([kind, entry]) => [kind, dated(entry)]));
}

function dated({ id, at, span }: FoldEntry): Dated {
	return span ? { entry: id, at, to: span.to } : { entry: id, at };
}

function sumsOf(facts: readonly Live[]): Map<string, number> {
	const sums = new Map<string, number>();
	for (const { entry, view } of facts) {
		for (const [name, field] of Object.entries(view.sums ?? {})) {
			const number = own(entry.data, field);
			if (typeof number === "number") sums.set(name, (sums.get(name) ?? 0) + number);
		}
	}
	return sums;
}

function belowZero(sums: Map<string, number>): Question[] {
	const below = [...sums].filter(([, value]) => value < 0);
	below.sort(([one], [other]) => compareText(one, other));
	return below.map(([sum, value]) => ({ sum, value }));
}

/** What the first `{type}.described` calls it, else what its first telling fact implies. */
function typeOf(
	recordId: string,
	descriptions: readonly Live[],
	facts: readonly Live[],
): string | null {
	for (const { entry } of descriptions) {
		if (entry.kind.endsWith(".described") && entry.kind !== "record.described") {
			return entry.kind.slice(0, -".described".length);
		}
	}
	const telling = facts.find((fact) => fact.view.implies && fact.entry.about === recordId);
	return telling?.view.implies ?? null;
}
