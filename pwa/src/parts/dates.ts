/** Days ("2026-08-18") as a person reads them, by the habits of their region in the language of the texts. */
const region = new Intl.Locale(globalThis.navigator?.language || "en-GB").region ?? "GB";
const locale = `en-${region}`;

const shapes = {
	weekday: { weekday: "long", day: "numeric", month: "long" },
	long: { day: "numeric", month: "long" },
	short: { day: "numeric", month: "short" },
	longYear: { day: "numeric", month: "long", year: "numeric" },
	shortYear: { day: "numeric", month: "short", year: "numeric" },
} as const satisfies Record<string, Intl.DateTimeFormatOptions>;

const formats = new Map<string, Intl.DateTimeFormat>();

function written(day: string, shape: keyof typeof shapes): string {
	let format = formats.get(shape);
	if (!format) {
		format = new Intl.DateTimeFormat(locale, { ...shapes[shape], timeZone: "UTC" });
		formats.set(shape, format);
	}
	// A day keeps its number and month together at the end of a line.
	return format.format(new Date(`${day}T00:00:00Z`)).replace(/(\d) (?=\p{L})/gu, "$1\u00a0");
}

const sameYear = (day: string, today: string) => day.slice(0, 4) === today.slice(0, 4);

/** "Tuesday 18 August" */
export const weekdayOf = (day: string) => written(day, "weekday");
/** "18 August"; the year only where it is not today's. */
export const dayLong = (day: string, today: string) =>
	written(day, sameYear(day, today) ? "long" : "longYear");
/** "18 Aug"; the year only where it is not today's. */
export const dayShort = (day: string, today: string) =>
	written(day, sameYear(day, today) ? "short" : "shortYear");

/** The day in a moment ("2026-08-18T14:20+02:00" or a plain day): what stands before the T. */
export const dayOf = (moment: string) => moment.slice(0, 10);

/** "8:12" of a moment as written on its own clock; nothing for a plain day. */
export const timeOf = (moment: string) =>
	moment.length > 10 ? moment.slice(11, 16).replace(/^0/, "") : "";
