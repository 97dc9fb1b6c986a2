// @vitest-environment happy-dom
import { cleanup, screen } from "@testing-library/preact";
import { afterEach, describe, expect, test } from "vitest";
import { say } from "../../../pwa/src/parts/say";
import { benchList } from "../../../pwa/src/screens/bench/bench-list";
import { openAt, tap, title } from "../gallery/open";
import { boxOf, named, record, shelvesOf } from "../gallery/records";
import { today } from "../gallery/scenes";

afterEach(cleanup);

const shelf = record("shelf", "north shelf", { id: "north" });
const taxon = "Osmunda regalis";
const records = [
	shelf,
	...boxOf({ n: 1, shelf: "north", taxon, growth: ["prothalli", "2026-08-01"] }),
	...boxOf({ n: 2, shelf: "north", taxon, trouble: ["mould", "2026-08-01"] }),
	...boxOf({ n: 3, taxon }),
	...boxOf({ n: 4, shelf: "north", taxon, trouble: ["dry", "2026-08-01"] }),
	record("packet", "packet 1", { fields: { "name.given": named(taxon) } }),
	record("packet", "packet 2", {
		fields: { "name.given": named(taxon) },
		facts: { "packet.received": today },
	}),
	...boxOf({ n: 9, shelf: "north", taxon, packet: "packet-2" }),
];
const numbers = (boxes: { number: string }[]) => boxes.map(({ number }) => number);

describe("the list", () => {
	const list = benchList(shelvesOf(records), null);

	test("stands by shelf; what spreads is kept apart, what is only dry is not; loose boxes have a place", () => {
		const [north, loose] = list.groups;
		expect(numbers(north?.boxes ?? [])).toEqual(["1", "4", "9"]);
		expect(loose?.shelf).toBeNull();
		expect(numbers(loose?.boxes ?? [])).toEqual(["3"]);
		expect(numbers(list.apart)).toEqual(["2"]);
		expect(list.total).toBe(5);
	});

	test("the ladder counts every box; one stage shows only its own", () => {
		expect([...list.counts]).toEqual([
			["prothalli", 1],
			["nothing", 4],
		]);
		const only = benchList(shelvesOf(records), "prothalli");
		expect(numbers(only.groups.flatMap((group) => group.boxes))).toEqual(["1"]);
		expect(only.apart).toEqual([]);
		expect(only.total).toBe(5);
	});
});

describe("the screen", () => {
	test("counts in its title, opens boxes, packets and rounds", async () => {
		openAt("/bench", { today, records });
		expect(await title()).toBe("5 boxes, 2 packets");
		const leads = (name: RegExp | string) =>
			screen.getByRole("link", { name }).getAttribute("href");
		expect(leads(/box 1 /)).toBe("/bench/box/box-1");
		expect(leads(/packet 2 /)).toBe("/bench/packet/packet-2");
		expect(leads(say("bench.shelf.round"))).toBe("/bench/shelf/north");
	});

	test("packets not sown yet come first", async () => {
		openAt("/bench", { today, records });
		const rows = await screen.findAllByRole("link", { name: /packet \d/ });
		expect(rows.map((row) => row.getAttribute("href"))).toEqual([
			"/bench/packet/packet-1",
			"/bench/packet/packet-2",
		]);
	});

	test("a stage is shown alone, and all again", async () => {
		openAt("/bench", { today, records });
		await tap(/^prothalli: 1 box/);
		expect(screen.queryByRole("link", { name: /box 3/ })).toBeNull();
		await tap(say("bench.show-all"));
		expect(await screen.findByRole("link", { name: /box 3/ })).toBeTruthy();
	});

	test("nothing yet says where the first packet comes from", async () => {
		openAt("/bench", { today, records: [] });
		expect(await title()).toBe(say("bench.title.empty"));
		expect(screen.getByText(say("bench.empty-under"))).toBeTruthy();
	});

	test("a packet tells what came of it and leads to sowing from it", async () => {
		openAt("/bench/packet/packet-2", { today, records });
		expect(await title()).toBe(taxon);
		expect(screen.getByRole("link", { name: /box 9/ }).getAttribute("href")).toBe(
			"/bench/box/box-9",
		);
		await tap(/^Sow from it/);
		expect(location.pathname + location.search).toBe("/bench/sow?packet=packet-2");
	});
});
