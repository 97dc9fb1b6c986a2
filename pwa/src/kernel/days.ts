// Whole dates as whole numbers: days since 1970-01-01 in the Gregorian calendar, also before it was
// introduced. No Date object, no zone, no floats, so that both languages count alike.
//
// The reckoning is the usual one by eras of 400 years (146,097 days) with the year begun in March,
// so that 29 February comes last; all divisions are floor divisions.

const ERA_DAYS = 146_097;
/** Days from 0000-03-01 to 1970-01-01. */
const MARCH_1_OF_YEAR_0 = 719_468;

/** Whether this is a date that exists, written `YYYY-MM-DD`, from year 1 on. */
export function isDay(text: unknown): text is string {
	if (typeof text !== "string" || text.length !== 10 || text[4] !== "-" || text[7] !== "-") {
		return false;
	}
	if (!onlyDigits(text.slice(0, 4) + text.slice(5, 7) + text.slice(8))) return false;
	const [year, month, day] = parts(text);
	return year >= 1 && month >= 1 && month <= 12 && day >= 1 && day <= monthLength(year, month);
}

/** Throws a RangeError when the text is no date that exists. */
export function toDay(text: string): number {
	if (!isDay(text)) throw new RangeError(`“${text}” is not a date; write it as 2026-05-01.`);
	return count(...parts(text));
}

/** Throws a RangeError outside the years 1 to 9999. */
export function fromDay(day: number): string {
	const era = floorDivide(day + MARCH_1_OF_YEAR_0, ERA_DAYS);
	const ofEra = day + MARCH_1_OF_YEAR_0 - era * ERA_DAYS;
	const leaps = floorDivide(ofEra, 1460) - floorDivide(ofEra, 36_524) + floorDivide(ofEra, 146_096);
	const ofEraYear = floorDivide(ofEra - leaps, 365);
	const ofYear =
		ofEra - (365 * ofEraYear + floorDivide(ofEraYear, 4) - floorDivide(ofEraYear, 100));
	const fromMarch = floorDivide(5 * ofYear + 2, 153);
	const month = fromMarch < 10 ? fromMarch + 3 : fromMarch - 9;
	const year = era * 400 + ofEraYear + (month <= 2 ? 1 : 0);
	if (year < 1 || year > 9999) throw new RangeError(`Day ${day} lies outside the years 1 to 9999.`);
	const ofMonth = ofYear - floorDivide(153 * fromMarch + 2, 5) + 1;
	return `${padded(year, 4)}-${padded(month, 2)}-${padded(ofMonth, 2)}`;
}

/**
 * Days in `P14D` or `P2W` (ISO 8601; days and weeks only, at most four digits). Throws a RangeError
 * on others.
 */
export function durationDays(duration: string): number {
	const number = duration.slice(1, -1);
	const unit = duration.slice(-1);
	if (duration[0] !== "P" || (unit !== "D" && unit !== "W") || !isShortNumber(number)) {
		throw new RangeError(`“${duration}” is not a duration in days or weeks, such as P14D or P2W.`);
	}
	return Number.parseInt(number, 10) * (unit === "W" ? 7 : 1);
}

export function addDuration(day: number, duration: string): number {
	return day + durationDays(duration);
}

function parts(text: string): [year: number, month: number, day: number] {
	const number = (from: number, to: number) => Number.parseInt(text.slice(from, to), 10);
	return [number(0, 4), number(5, 7), number(8, 10)];
}

function count(year: number, month: number, day: number): number {
	const marchYear = month <= 2 ? year - 1 : year;
	const era = floorDivide(marchYear, 400);
	const ofEraYear = marchYear - era * 400;
	const fromMarch = month > 2 ? month - 3 : month + 9;
	const ofYear = floorDivide(153 * fromMarch + 2, 5) + day - 1;
	const ofEra = ofEraYear * 365 + floorDivide(ofEraYear, 4) - floorDivide(ofEraYear, 100) + ofYear;
	return era * ERA_DAYS + ofEra - MARCH_1_OF_YEAR_0;
}

function monthLength(year: number, month: number): number {
	const after = month === 12 ? count(year + 1, 1, 1) : count(year, month + 1, 1);
	return after - count(year, month, 1);
}

function floorDivide(one: number, other: number): number {
	return Math.floor(one / other);
}

function isShortNumber(text: string): boolean {
	return text.length >= 1 && text.length <= 4 && onlyDigits(text);
}

function onlyDigits(text: string): boolean {
	return [...text].every((character) => "0123456789".includes(character));
}

function padded(number: number, digits: number): string {
	return String(number).padStart(digits, "0");
}
