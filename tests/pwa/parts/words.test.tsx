// @vitest-environment happy-dom
import { cleanup, render } from "@testing-library/preact";
import { afterEach, describe, expect, test } from "vitest";
import plan from "../../../pwa/src/contract/plans/closed_box.json";
import {
	answerWord,
	doingOf,
	leadsTo,
	pictureOf,
	questionOf,
} from "../../../pwa/src/parts/answering";
import { dayLong, dayShort, timeOf, weekdayOf } from "../../../pwa/src/parts/dates";
import names from "../../../pwa/src/parts/pictogram-names.ts?raw";
import { isTextKey, say, sayWith, type TextKey } from "../../../pwa/src/parts/say";
import sprite from "../../../pwa/src/parts/sprite.svg?raw";
import { growths, numberOf, troubles } from "../../../pwa/src/parts/standing";
import { FernName, fullName, Taxon } from "../../../pwa/src/parts/taxon";
import { covers } from "../../../pwa/src/screens/bench/whats-new";

afterEach(cleanup);

const drawings = import.meta.glob("../../../pwa/src/parts/pictograms/*.svg", { query: "?raw" });
const html = (node: Parameters<typeof render>[0]) => render(node).container.innerHTML;

describe("say", () => {
	test("chooses one or other by n and fills its holes", () => {
		expect(say("parts.only-here.some", { n: 1, age: "now" })).toContain("1 note exists");
		expect(say("parts.only-here.some", { n: 7, age: "5 h" })).toContain("7 notes exist");
	});

	test("a hole without a value never reaches the screen", () => {
		expect(() => say("parts.tag.box")).toThrow("{text}");
		expect(() => sayWith("parts.tag.box", {})).toThrow("{text}");
		expect(() => say("parts.nowhere" as TextKey)).toThrow("parts.nowhere");
	});

	test("drawn things stand in their holes", () => {
		expect(html(<p>{sayWith("parts.tag.box", { text: <b>31</b> })}</p>)).toBe(
			"<p>box <b>31</b></p>",
		);
	});
});

describe("words made from data", () => {
	test.each([
		...growths.map((code) => `parts.growth.${code}`),
		...troubles.map((code) => `parts.trouble.${code}`),
		...covers.map((code) => `parts.cover.${code}`),
		...["thin", "right", "thick"].map((code) => `parts.density.${code}`),
	])("%s is there", (key) => expect(isTextKey(key)).toBe(true));

	const asked = plan.rules.map(({ rule, ask }) => ({ rule, ask }));
	test.each(asked)(
		"$rule: a question, something to do, and a word and a drawing for every answer",
		({ rule, ask }) => {
			expect(questionOf(rule)).not.toBe(say("parts.ask.other"));
			expect(doingOf(rule)).not.toBe(say("parts.do.other"));
			for (const code of ask) {
				expect(isTextKey(`plans.answer.${code}`), `a word for ${code}`).toBe(true);
				expect(pictureOf(code), `a drawing for ${code}`).toBeDefined();
				if (rule !== "round")
					expect(leadsTo(rule, code), `what ${rule} ${code} leads to`).toBeTruthy();
			}
		},
	);

	test("a code of a plan that people have changed is said plainly", () => {
		expect(answerWord("moved_to_shade")).toBe("moved to shade");
	});
});

describe("names", () => {
	test.each([
		["Dryopteris affinis", "<i>Dryopteris affinis</i>"],
		["Athyrium filix-femina", "<i>Athyrium filix-\u2060femina</i>"],
		["Dryopteris cf. affinis", "<i>Dryopteris</i> cf. <i>affinis</i>"],
		["Dicksonia sp.", "<i>Dicksonia</i> sp."],
		["Asplenium × lucrosum", "<i>Asplenium</i> × <i>lucrosum</i>"],
		["Athyrium filix-femina 'Frizelliae'", "<i>Athyrium filix-\u2060femina</i> 'Frizelliae'"],
		["Dryopteris affinis subsp. borreri", "<i>Dryopteris affinis</i> subsp. <i>borreri</i>"],
		[
			"Dryopteris affinis (Lowe) Fraser-Jenk.",
			"<i>Dryopteris affinis</i> (Lowe) Fraser-\u2060Jenk.",
		],
		["ex Osmunda regalis", "ex <i>Osmunda regalis</i>"],
		["Osmunda regalis or Todea barbara", "<i>Osmunda regalis</i> or <i>Todea barbara</i>"],
	])("%s", (name, printed) => {
		expect(html(<Taxon name={name} />)).toBe(`<span class="taxon-name">${printed}</span>`);
	});

	test("the qualifier stands where it belongs", () => {
		const taxon = "Dryopteris affinis";
		expect(fullName({ taxon, qualifier: "cf" })).toBe("Dryopteris cf. affinis");
		expect(fullName({ taxon, qualifier: "ex" })).toBe("ex Dryopteris affinis");
		expect(fullName({ taxon, other: "Dryopteris filix-mas" })).toBe(
			"Dryopteris affinis or Dryopteris filix-mas",
		);
	});

	test("what is unsure has its dotted line; what has no name says so", () => {
		expect(html(<FernName naming={{ taxon: "Osmunda regalis", sure: "probable" }} />)).toContain(
			"unsure",
		);
		expect(html(<FernName naming={{ taxon: "Osmunda regalis", sure: "certain" }} />)).not.toContain(
			"unsure",
		);
		expect(html(<FernName naming={null} />)).toContain(say("parts.name.unknown"));
	});

	test("numbers without the word for the thing", () => {
		expect(numberOf("box 31")).toBe("31");
		expect(numberOf("MV 28")).toBe("MV 28");
		expect(numberOf("box")).toBe("box");
	});
});

describe("days", () => {
	test("in words, with the year only where it is another", () => {
		expect(weekdayOf("2026-08-18")).toMatch(/^Tuesday,? /);
		expect(dayLong("2026-08-18", "2026-01-01")).not.toContain("2026");
		expect(dayLong("2025-08-18", "2026-01-01")).toContain("2025");
		expect(dayShort("2026-06-29", "2026-07-01")).toMatch(/29.Jun|Jun.29/);
	});

	test("the time as on its own clock", () => {
		expect(timeOf("2026-08-18T08:12:31+02:00")).toBe("8:12");
		expect(timeOf("2026-08-18")).toBe("");
	});
});

test("the sprite holds every drawing, under its name", () => {
	const files = Object.keys(drawings).map((path) => path.replace(/^.*\/|\.svg$/g, ""));
	expect(files.length).toBeGreaterThan(100);
	expect([...sprite.matchAll(/<symbol id="([^"]+)"/g)].map(([, id]) => id)).toEqual(files.sort());
	for (const file of files) expect(names).toContain(`"${file}"`);
});
