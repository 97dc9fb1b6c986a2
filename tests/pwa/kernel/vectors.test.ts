// Runs every shared vector of the kernel; see tests/vectors/README.md.

import { describe, expect, test } from "vitest";
import { canonical } from "../../../pwa/src/kernel/canonical";
import type { Json } from "../../../pwa/src/kernel/record";
import { CALLS, whole } from "./calls";

// As text: a JSON import would turn a member named __proto__ into something else.
const texts = import.meta.glob<string>("../../vectors/**/*.json", {
	query: "?raw",
	import: "default",
	eager: true,
});
interface Vector {
	id: string;
	given: object;
	expect?: Json;
	reject?: true;
}

const files = Object.values(texts).map((text) => JSON.parse(text));

describe.each(files.filter(({ rule }) => rule in CALLS))(
	"$rule",
	({ rule, shared = {}, vectors }) => {
		test.each<Vector>(vectors)("$id $title", (vector) => {
			const run = () => CALLS[rule]?.({ ...shared.given, ...vector.given });
			if (vector.reject) expect(run).toThrow(RangeError);
			else expect(canonical(run() as Json)).toBe(canonical(whole(shared.expect, vector.expect)));
		});
	},
);
