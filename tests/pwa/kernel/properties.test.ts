// Stamps, codes and days, held against what they promise.

import fc from "fast-check";
import { expect, test } from "vitest";
import {
	type Clock,
	MINUTE,
	mergeStamp,
	readStamp,
	receive,
	tick,
	writeStamp,
} from "../../../pwa/src/kernel/clock";
import { ALPHABET, codeOf, suggestions, verify } from "../../../pwa/src/kernel/code";
import { fromDay, isDay, toDay } from "../../../pwa/src/kernel/days";

const ms = fc.maxSafeNat().map((n) => n % 2 ** 47);
const clocks: fc.Arbitrary<Clock> = fc.record({
	ms,
	counter: fc.nat(0xffffffff),
	node: fc.constantFrom("a".repeat(16), "b".repeat(16)),
});

test("what is written is read", () => {
	fc.assert(
		fc.property(clocks, (clock) => {
			expect(readStamp(writeStamp(clock))).toEqual(clock);
		}),
	);
});

test("each stamp is greater than the last", () => {
	fc.assert(
		fc.property(clocks, fc.array(ms, { minLength: 2 }), (first, walls) => {
			let clock = first;
			let before = writeStamp(first);
			for (const wall of walls) {
				const [after, made] = tick(clock, wall);
				expect(made > before).toBe(true);
				[clock, before] = [after, made];
			}
		}),
	);
});

test("what was seen is behind, and nobody drags the clock", () => {
	fc.assert(
		fc.property(clocks, clocks, ms, (mine, theirs, wall) => {
			const after = receive(mine, writeStamp(theirs), wall);
			expect(after.node).toBe(mine.node);
			expect(after.ms).toBeLessThanOrEqual(Math.max(mine.ms, wall + MINUTE));
			const [, made] = tick(after, wall);
			if (theirs.ms <= wall + MINUTE) expect(made > writeStamp(theirs)).toBe(true);
		}),
	);
});

test("the cap only lowers", () => {
	fc.assert(
		fc.property(clocks, ms, (clock, received) => {
			const merged = mergeStamp(writeStamp(clock), received);
			expect(merged <= writeStamp(clock)).toBe(true);
			expect(readStamp(merged).ms).toBe(Math.min(clock.ms, received + MINUTE));
		}),
	);
});

const codes = fc
	.array(fc.constantFrom(...ALPHABET), { minLength: 5, maxLength: 5 })
	.map((five) => codeOf(five.join("")))
	.filter((code) => code !== null);

function slipsOf(code: string): string[] {
	const six = [...code];
	const changed = six.flatMap((own, i) =>
		[...ALPHABET].filter((other) => other !== own).map((other) => six.with(i, other).join("")),
	);
	const swapped = six.slice(1).flatMap((next, i) => {
		const own = six[i] as string;
		return own === next
			? []
			: [
					six
						.with(i, next)
						.with(i + 1, own)
						.join(""),
				];
	});
	return [...changed, ...swapped];
}

test("every wrong character and every swap of neighbours is found, and the code is offered", () => {
	fc.assert(
		fc.property(codes, fc.nat(), (code, n) => {
			const slips = slipsOf(code);
			expect(verify(code)).toBe(true);
			expect(slips.length).toBeGreaterThanOrEqual(6 * 29);
			expect(slips.filter(verify)).toStrictEqual([]);
			expect(suggestions(slips[n % slips.length] as string)).toContain(code);
		}),
	);
});

test("every day of eight centuries, held against the calendar of Date", { timeout: 60_000 }, () => {
	const day = 86_400_000;
	const last = Date.UTC(2400, 11, 31) / day;
	const wrong: string[] = [];
	for (let n = Date.UTC(1600, 0, 1) / day; n <= last; n++) {
		const text = new Date(n * day).toISOString().slice(0, 10);
		if (fromDay(n) !== text || toDay(text) !== n) wrong.push(text);
	}
	expect(wrong).toStrictEqual([]);
});

test("every month ends where the calendar ends it", () => {
	for (let year = 1600; year <= 2400; year++) {
		for (let month = 1; month <= 12; month++) {
			const date = (n: number) => `${year}-${String(month).padStart(2, "0")}-${n}`;
			const length = new Date(Date.UTC(year, month, 0)).getUTCDate();
			expect(isDay(date(length)) && !isDay(date(length + 1))).toBe(true);
		}
	}
});
