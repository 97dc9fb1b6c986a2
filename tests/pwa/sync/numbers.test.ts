import { expect, test } from "vitest";
import { nextNumber, numbersLeft, takeNumber } from "../../../pwa/src/sync/numbers";
import type { NumberState } from "../../../pwa/src/sync/ports";

const alone: NumberState = { met: false, blocks: {}, last: {} };
const block = (from: number, to: number, n = 0): NumberState => ({
	...{ met: true, blocks: { box: [{ from, to }] } },
	last: n ? { box: { n, letters: 0 } } : {},
});

test("a phone that never met a server starts at 1 and runs on", () => {
	expect(nextNumber(alone, "MV")).toBe("MV 1");
	expect(nextNumber(takeNumber(alone, "MV", "MV 1"), "MV")).toBe("MV 2");
	expect(nextNumber(takeNumber(alone, "MV", "MV 28"), "MV")).toBe("MV 29");
});

test("blocks come next; what was taken alone is not given twice", () => {
	expect(nextNumber(block(51, 100), "box")).toBe("box 51");
	expect(nextNumber(block(1, 50, 7), "box")).toBe("box 8");
	expect(nextNumber(block(51, 100), "box", (label) => label === "box 51")).toBe("box 52");
});

test("out of numbers: the last one with a, b, c", () => {
	let state = block(51, 52, 52);
	const labels = [];
	for (let i = 0; i < 3; i++) {
		labels.push(nextNumber(state, "box"));
		state = takeNumber(state, "box", nextNumber(state, "box"));
	}
	expect(labels).toEqual(["box 52a", "box 52b", "box 52c"]);
	expect(nextNumber({ ...state, last: { box: { n: 52, letters: 26 } } }, "box")).toBe("box 52aa");
	expect(nextNumber({ ...alone, met: true }, "box")).toBe("box 1a");
});

test("numbers of others, and names, leave the running number as it is", () => {
	expect(takeNumber(alone, "box", "the blue box")).toBe(alone);
	expect(takeNumber(block(51, 100), "box", "box 7")).toEqual(block(51, 100));
	expect(takeNumber(block(51, 100, 60), "box", "box 55")).toEqual(block(51, 100, 60));
});

test("what is left is told by series", () => {
	const left = Object.fromEntries(
		numbersLeft(block(51, 100, 60), "MV").map((one) => [one.series, one.left]),
	);
	expect(left).toEqual({ box: 40, packet: 0, plant: 0, pots: 0, mix: 0, shelf: 0, MV: 0 });
});
