// Running numbers: blocks that the server handed to this phone; from 1 where it never met one; letters
// when they run out. Gaps are fine, and the same number twice is a question, never a refusal.

import type { NumberState } from "./ports";

const WORDS = ["box", "packet", "plant", "pots", "mix", "shelf"];
const LETTERS = 26;

/** What the next label says. `known`: labels that this phone has seen on something already. */
export function nextNumber(
	state: NumberState,
	series: string,
	known: (label: string) => boolean = () => false,
): string {
	const last = state.last[series] ?? { n: 0, letters: 0 };
	const free = freeNumber(state, series, last.n, known);
	if (free !== null) return `${series} ${free}`;
	const base = last.n || lastOfBlocks(state, series);
	for (let letters = last.letters + 1; ; letters++) {
		const label = `${series} ${base}${lettersOf(letters)}`;
		if (!known(label)) return label;
	}
}

/** The state after a label was used; one that was written otherwise leaves it as it is. */
export function takeNumber(state: NumberState, series: string, label: string): NumberState {
	if (!label.startsWith(`${series} `)) return state;
	const rest = label.slice(series.length + 1);
	const digits = [...rest].findIndex((c) => c < "0" || c > "9");
	const n = Number.parseInt(digits < 0 ? rest : rest.slice(0, digits), 10);
	const letters = digits < 0 ? 0 : numberOf(rest.slice(digits));
	const last = state.last[series] ?? { n: 0, letters: 0 };
	if (!Number.isSafeInteger(n) || letters === null || !isMine(state, series, n)) return state;
	const further = n > last.n || (n === last.n && letters > last.letters);
	return further ? { ...state, last: { ...state.last, [series]: { n, letters } } } : state;
}

/** Numbers left in the blocks, for the exchange. A phone that never met a server has none. */
export function numbersLeft(
	state: NumberState,
	initials: string,
): { series: string; left: number }[] {
	return [...WORDS, initials].map((series) => {
		const last = state.last[series]?.n ?? 0;
		const blocks = state.blocks[series] ?? [];
		const left = blocks.map(({ from, to }) => Math.max(0, to - Math.max(from - 1, last)));
		return { series, left: left.reduce((sum, each) => sum + each, 0) };
	});
}

function freeNumber(
	{ met, blocks }: NumberState,
	series: string,
	last: number,
	known: (label: string) => boolean,
): number | null {
	const ranges = blocks[series] ?? (met ? [] : [{ from: 1, to: Number.MAX_SAFE_INTEGER }]);
	for (const { from, to } of [...ranges].sort((one, other) => one.from - other.from)) {
		for (let n = Math.max(from, last + 1); n <= to; n++) if (!known(`${series} ${n}`)) return n;
	}
	return null;
}

/** Others' numbers, typed by hand, do not move the running number of this phone. */
function isMine({ met, blocks, last }: NumberState, series: string, n: number): boolean {
	if (!met) return true;
	if (n === last[series]?.n) return true;
	return (blocks[series] ?? []).some(({ from, to }) => from <= n && n <= to);
}

function lastOfBlocks({ blocks }: NumberState, series: string): number {
	return Math.max(1, ...(blocks[series] ?? []).map(({ to }) => to));
}

/** 1 = a, 26 = z, 27 = aa. */
function lettersOf(count: number): string {
	const last = String.fromCharCode(97 + ((count - 1) % LETTERS));
	return count > LETTERS ? lettersOf(Math.floor((count - 1) / LETTERS)) + last : last;
}

function numberOf(letters: string): number | null {
	let count = 0;
	for (const letter of letters) {
		const at = letter.charCodeAt(0) - 96;
		if (at < 1 || at > LETTERS) return null;
		count = count * LETTERS + at;
	}
	return count;
}
