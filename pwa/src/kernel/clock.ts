// Hybrid logical clock: stamps that sort as text in an order that follows what people saw.
//
// A stamp is `{12 hex ms}-{8 hex counter}-{16 hex node}`, lower case. The way of counting is that of
// Kulkarni et al., "Logical Physical Clocks" (2014); what is received moves the own clock by a
// minute at most, so that one phone with a wrong clock cannot drag all others along.

/** How far, in ms, a received stamp may stand ahead of the clock of the one who receives it. */
export const MINUTE = 60_000;

const LAST_COUNTER = 0xffffffff;
const HEX = "0123456789abcdef";
const LENGTHS = [12, 8, 16];

/** `ms` and `counter` of the last stamp made or taken over; `node` is 16 hex digits. */
export interface Clock {
	readonly ms: number;
	readonly counter: number;
	readonly node: string;
}

export function isStamp(text: unknown): text is string {
	if (typeof text !== "string") return false;
	const parts = text.split("-");
	return (
		parts.length === LENGTHS.length &&
		parts.every((part, i) => part.length === LENGTHS[i] && [...part].every((c) => HEX.includes(c)))
	);
}

/** Throws a RangeError when the text is no stamp. */
export function readStamp(text: string): Clock {
	if (!isStamp(text)) {
		throw new RangeError(`“${text}” is not a stamp of the form ms-counter-node in lower-case hex.`);
	}
	return {
		ms: Number.parseInt(text.slice(0, 12), 16),
		counter: Number.parseInt(text.slice(13, 21), 16),
		node: text.slice(22),
	};
}

export function writeStamp(clock: Clock): string {
	return `${hex(clock.ms, 12)}-${hex(clock.counter, 8)}-${clock.node}`;
}

/** The clock after making one stamp, and that stamp: greater than all before it. */
export function tick(clock: Clock, wallMs: number): [Clock, string] {
	const { ms, counter, node } = clock;
	const after =
		wallMs > ms
			? { ms: wallMs, counter: 0, node }
			: counter < LAST_COUNTER
				? { ms, counter: counter + 1, node }
				: { ms: ms + 1, counter: 0, node };
	return [after, writeStamp(after)];
}

/** The clock after seeing another's stamp; never moved beyond `wallMs` + 60000 by it. */
export function receive(clock: Clock, made: string, wallMs: number): Clock {
	const theirs = readStamp(made);
	const limit = wallMs + MINUTE;
	const { ms, counter } = theirs.ms <= limit ? theirs : { ms: limit, counter: LAST_COUNTER };
	const behind = ms > clock.ms || (ms === clock.ms && counter > clock.counter);
	return behind ? { ms, counter, node: clock.node } : clock;
}

/**
 * The stamp by which an entry is ordered: `made`, but at most a minute after the server first had
 * it (`received`, ms).
 */
export function mergeStamp(made: string, received: number | null | undefined): string {
	if (received === null || received === undefined) return made;
	const cap = hex(received + MINUTE, 12);
	return made.slice(0, 12) <= cap ? made : `${cap}-ffffffff-${made.slice(22)}`;
}

function hex(number: number, digits: number): string {
	return number.toString(16).padStart(digits, "0");
}
