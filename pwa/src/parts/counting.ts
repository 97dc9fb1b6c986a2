import { isTextKey, say } from "./say";

/** "two"; above twelve, digits. */
export function inWords(n: number): string {
	const key = `parts.number.${n}`;
	return isTextKey(key) ? say(key) : String(n);
}

/** The letter that ties a row to a drawing: a, b, … z. */
export const letterOf = (i: number): string => String.fromCharCode(97 + (i % 26));
