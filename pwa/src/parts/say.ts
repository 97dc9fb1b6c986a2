/** Every sentence on the screen comes from the texts of the contract; code holds keys only. */
import type { ComponentChildren } from "preact";
import type { TextKey } from "../contract/texts";
import { textOf } from "./catalogue";

export type { TextKey };
export type Values = Readonly<Record<string, string | number>>;

const plurals = new Intl.PluralRules("en");
const holes = /\{(\w+)\}/;

/** The sentence of `key` with its holes still open; `n` chooses between one and other. */
function sentence(key: TextKey, n: unknown): string {
	const found = textOf(key);
	if (found === undefined) throw new Error(`No text for ${key}`);
	if (typeof found === "string") return found;
	return plurals.select(Number(n ?? 0)) === "one" ? found.one : found.other;
}

/** A sentence with its holes filled. A hole without a value is an error: it would reach the screen. */
export function say(key: TextKey, values: Values = {}): string {
	return sentence(key, values.n).replace(/\{(\w+)\}/g, (_, hole: string) => {
		const value = values[hole];
		if (value === undefined) throw new Error(`No value for {${hole}} in ${key}`);
		return String(value);
	});
}

/** Like `say`, for sentences that hold drawn things: names in italics, tags, emphasis. */
export function sayWith(
	key: TextKey,
	values: Readonly<Record<string, ComponentChildren>>,
): ComponentChildren[] {
	return sentence(key, values.n)
		.split(/(\{\w+\})/)
		.map((piece) => {
			const hole = holes.exec(piece)?.[1];
			if (hole === undefined) return piece;
			if (!(hole in values)) throw new Error(`No value for {${hole}} in ${key}`);
			return values[hole];
		});
}

/** Whether there is a sentence for a key made from data (a rule, an answer, a growth). */
export function isTextKey(key: string): key is TextKey {
	return textOf(key) !== undefined;
}

/** A label at the beginning of a sentence: "North shelf". */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
