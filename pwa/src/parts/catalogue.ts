/**
 * The sentences of the contract, chapter by chapter: those of Today, of parts, plans and errors are there from the
 * start; those of another place come with its first screen, so that they are no part of the first load.
 */
import type { Text } from "../contract/texts";
import errors from "../contract/texts/errors.json";
import parts from "../contract/texts/parts.json";
import plans from "../contract/texts/plans.json";
import today from "../contract/texts/today.json";

const known: { [key: string]: Text } = { ...errors, ...parts, ...plans, ...today };

const later = {
	ahead: () => import("../contract/texts/ahead.json"),
	begin: () => import("../contract/texts/begin.json"),
	bench: () => import("../contract/texts/bench.json"),
	book: () => import("../contract/texts/book.json"),
	field: () => import("../contract/texts/field.json"),
};

export type Chapter = keyof typeof later;
export const chapters = Object.keys(later) as Chapter[];

/** Bring these chapters; one that is here already is not brought again. */
export async function learn(wanted: readonly Chapter[]): Promise<void> {
	const brought = await Promise.all(wanted.map((chapter) => later[chapter]()));
	for (const { default: texts } of brought) Object.assign(known, texts);
}

export const textOf = (key: string): Text | undefined => known[key];
