// Canonical JSON text (RFC 8785): equal text means equal parsed JSON, so `true` is not `1`.

import type { Json } from "./record";

/** RFC 8785 text of a JSON value. Throws a RangeError for a number that JSON cannot carry. */
export function canonical(value: Json): string {
	if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
	if (typeof value === "object" && value !== null) {
		const names = Object.keys(value).sort();
		const members = names.map(
			(name) => `${JSON.stringify(name)}:${canonical(value[name] as Json)}`,
		);
		return `{${members.join(",")}}`;
	}
	if (typeof value === "number" && !Number.isFinite(value)) {
		throw new RangeError(`${value} is not a JSON number: write it as text or leave it out.`);
	}
	return JSON.stringify(value);
}

/** Whether two JSON values are equal. Text, the usual case, needs no canonical form. */
export function sameValue(one: Json, other: Json): boolean {
	if (typeof one === "string" && typeof other === "string") return one === other;
	return canonical(one) === canonical(other);
}
