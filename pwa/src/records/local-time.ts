// Today and now, by the phone's clock, the difference to the server, and the demo's shifted calendar.

import type { Clock, ServerSaid } from "../sync/ports";

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;

/** Above this the person is told that the phone's clock is wrong. */
export const WRONG_CLOCK_MS = 5 * MINUTE_MS;

function local(clock: Clock, said: ServerSaid | null): { text: string; offset: number } {
	const right = clock.wall() - (said?.clockOffMs ?? 0) + (said?.shiftDays ?? 0) * DAY_MS;
	const offset = clock.offsetMinutes(right);
	return { text: new Date(right + offset * MINUTE_MS).toISOString().slice(0, 19), offset };
}

function two(n: number): string {
	return String(n).padStart(2, "0");
}

/** "YYYY-MM-DD" in the phone's zone. */
export function todayOf(clock: Clock, said: ServerSaid | null): string {
	return local(clock, said).text.slice(0, 10);
}

/** "2026-05-02T12:00:00+02:00" */
export function nowOf(clock: Clock, said: ServerSaid | null): string {
	const { text, offset } = local(clock, said);
	const size = Math.abs(offset);
	return `${text}${offset < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

/** The default `at` of an entry: now, with its zone. */
export function atOf(clock: Clock, said: ServerSaid | null): string {
	return `${nowOf(clock, said)}[${clock.zone()}]`;
}
