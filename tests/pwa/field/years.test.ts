import { expect, test } from "vitest";
import { nextVisit, ripeDays, standing, yearsOf } from "../../../pwa/src/screens/field/years";
import { ladyNotes, stored } from "./wood";

const today = "2026-08-18";
const seen = (day: string, ripeness: string) => stored("p", "sori.seen", day, { ripeness });
const next = (...days: [string, string][]) =>
	nextVisit(yearsOf(days.map(([day, ripeness]) => seen(day, ripeness))), today);

test("years are told latest first, with looks and cuts in their order", () => {
	expect(yearsOf(ladyNotes).map(({ year, sights }) => [year, sights.length])).toEqual([
		["2026", 1],
		["2025", 2],
		["2024", 1],
	]);
	expect(ripeDays(yearsOf(ladyNotes))).toEqual(["2025-08-27", "2024-08-31"]);
});

test("this year's last look comes first", () => {
	expect(next(["2024-08-31", "ripe"], ["2026-08-04", "turning"])).toEqual({
		say: "turning",
		day: "2026-08-04",
	});
	expect(next(["2026-08-01", "turning"], ["2026-08-15", "ripe"])).toMatchObject({
		say: "ripe-now",
	});
	expect(next(["2026-08-15", "spent"])).toMatchObject({ say: "spent" });
});

test("one ripe year is told as one, more as a span over the years", () => {
	expect(next(["2025-08-27", "ripe"], ["2026-08-01", "young"])).toEqual({
		say: "one",
		day: "2025-08-27",
		year: "2025",
	});
	expect(next(["2024-08-31", "ripe"], ["2025-08-04", "young"], ["2025-08-19", "ripe"])).toEqual({
		say: "more",
		from: "2026-08-19",
		to: "2026-08-31",
		n: 2,
	});
});

test("nothing is invented where no ripe day is known", () => {
	expect(next()).toEqual({ say: "none" });
	expect(next(["2025-08-01", "young"])).toEqual({ say: "none" });
	expect(next(["2026-08-01", "young"])).toEqual({ say: "young", day: "2026-08-01" });
	expect(next(["2026-08-01", "unseen"])).toEqual({ say: "none" });
});

test("crossed out and held notes count nowhere", () => {
	const held = stored("p", "sori.seen", "2025-08-01", { ripeness: "ripe" }, { state: "held" });
	const struck = stored("p", "sori.seen", "2025-08-02", { ripeness: "ripe" }, { id: "struck" });
	const good = seen("2025-08-03", "ripe");
	expect(standing([held, struck, good], ["struck"])).toEqual([good]);
});
