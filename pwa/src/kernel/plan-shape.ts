// Whether a care plan can be followed: whether this side understands every part of its rules.
//
// People write plans of their own, and a newer app may write parts that this one does not know. Such
// a plan must neither be misread nor stop everything else, so `due` is given only what passes here.
// The JSON Schema of care plans asks for more, of plans that we ship.

import { durationDays } from "./days";
import type { CarePlan } from "./plan";

type Shape = (value: unknown) => boolean;
type Parts = { [name: string]: Shape };

export function isPlan(value: unknown): value is CarePlan {
	return isObject(value) && listOf(rule)(value.rules);
}

function rule(value: unknown): boolean {
	if (!isObject(value) || "wait" in value === "every" in value) return false;
	return value.each === "box" ? ROUND(value) : QUESTION(value);
}

function isObject(value: unknown): value is { [part: string]: unknown } {
	return typeof value === "object" && value !== null && !Array.isArray(value);
}

const text: Shape = (value) => typeof value === "string";
const textOrNull: Shape = (value) => value === null || typeof value === "string";
const flag: Shape = (value) => typeof value === "boolean";

function duration(value: unknown): boolean {
	try {
		return typeof value === "string" && durationDays(value) >= 0;
	} catch {
		return false;
	}
}

function word(...words: string[]): Shape {
	return (value) => typeof value === "string" && words.includes(value);
}

function listOf(shape: Shape): Shape {
	return (value) => Array.isArray(value) && value.every(shape);
}

function mapOf(shape: Shape): Shape {
	return (value) => isObject(value) && Object.values(value).every(shape);
}

function anyOf(...shapes: Shape[]): Shape {
	return (value) => shapes.some((shape) => shape(value));
}

/** An object with these parts and no others. */
function parts(needed: Parts, others: Parts): Shape {
	const known = new Map(Object.entries({ ...others, ...needed }));
	return (value) =>
		isObject(value) &&
		Object.keys(needed).every((name) => Object.hasOwn(value, name)) &&
		Object.entries(value).every(([name, part]) => known.get(name)?.(part) === true);
}

const SOURCE = anyOf(
	parts({ last: text }, { of: word("each", "subject", "inside", "all") }),
	parts({ since: text }, {}),
	parts({ answered: text }, { codes: listOf(text), take: word("first") }),
);
const CONDITION = anyOf(
	parts({ state: text, in: listOf(textOrNull) }, {}),
	parts({ answered: text, codes: listOf(text), is: flag }, {}),
	parts({ apogamous: flag }, {}),
);
const WAIT = anyOf(
	duration,
	listOf(duration),
	parts({ span: text, else: duration }, {}),
	parts({ usual: duration, after: mapOf(duration) }, {}),
	parts({ usual: duration }, { green: duration, apogamous: duration }),
);
const ENDS = anyOf(
	parts({ by: word("answer", "turns", "empty") }, {}),
	parts({ by: word("age"), after: duration, from: SOURCE }, {}),
);
const TEMPLATE = parts(
	{ kind: text, about: word("subject", "each"), data: isObject },
	{ also: word("subject", "covers"), by: parts({ state: text, data: mapOf(isObject) }, {}) },
);
const SOURCES = listOf(SOURCE);
const CONDITIONS = listOf(CONDITION);
const COMMON: Parts = {
	rule: text,
	anchor: SOURCES,
	ends: ENDS,
	ask: listOf(text),
	answers: mapOf(listOf(TEMPLATE)),
	question: text,
	why: text,
};
const QUESTION = parts(
	{ ...COMMON, subject: word("box") },
	{
		each: word("sowing"),
		while: CONDITIONS,
		wait: WAIT,
		every: WAIT,
		done_by: SOURCES,
		until: duration,
		again: parts({ anchor: SOURCES, wait: duration }, {}),
		caution: text,
	},
);
const ROUND = parts(
	{
		...COMMON,
		subject: word("shelf"),
		each: word("box"),
		every: duration,
		past: listOf(text),
		looks: SOURCES,
		placed: SOURCES,
	},
	{ leaves_out: CONDITIONS, caution: text },
);
