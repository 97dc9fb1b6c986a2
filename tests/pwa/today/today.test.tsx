// @vitest-environment happy-dom
import { cleanup, screen, waitFor, within } from "@testing-library/preact";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { route } from "../../../pwa/src/parts/route";
import { hideSaved } from "../../../pwa/src/parts/saved-strip";
import { say } from "../../../pwa/src/parts/say";
import type { Shown } from "../gallery/fake-desk";
import { callsOf, openAt, tap, title } from "../gallery/open";
import { boxOf, record, sowingOf } from "../gallery/records";
import { scenes, task, today } from "../gallery/scenes";

beforeEach(hideSaved);
afterEach(cleanup);

const shelf = record("shelf", "north shelf", {
	id: "north",
	facts: { "shelf.walked": "2026-08-11" },
});
const boxes = (n: number) =>
	Array.from({ length: n }, (_, i) =>
		boxOf({ n: i + 1, shelf: "north", taxon: "Osmunda regalis", sown: "2026-08-01" }),
	).flat();
const look = (n: number, due = today) => task({ subject: `box-${n}`, rule: "first-look", due });
const round = task({
	subject: "north",
	rule: "round",
	ask: ["as_before", "later"],
	covers: ["box-1"],
});

describe("the title says what is the case", () => {
	test.each<[string, number, Shown["tasks"], string]>([
		["nothing is sown", 0, [], "Nothing is sown yet"],
		["one box wants a look", 40, [look(1)], "Leave 39 alone, look at one"],
		["two of forty", 40, [look(1), look(2)], "Leave 38 alone, look at these two"],
		[
			"two questions about one box",
			5,
			[look(1), { ...look(1), id: "x", rule: "green-film" }],
			"Leave 4 alone, look at one",
		],
		["all of them", 2, [look(1), look(2)], "Look at these two"],
		["a round and nothing else", 3, [round], "One thing: walk the shelf"],
		["nothing is due", 7, [look(1, "2026-08-19")], "Leave all 7 alone today"],
	])("%s", async (_, n, tasks, words) => {
		openAt("/", { today, records: [shelf, ...boxes(n)], tasks: tasks ?? [] });
		expect(await title()).toBe(words);
	});
});

describe("a box that wants an answer", () => {
	const one = { today, records: [shelf, ...boxes(3)], tasks: [look(2)] };

	test("its card names it and opens it", async () => {
		openAt("/", one);
		const cards = await screen.findAllByRole("link", { name: /box 2/ });
		expect(cards[0]?.getAttribute("href")).toBe("/bench/box/box-2");
	});

	test("one tap gives the answer of the plan, the strip says so and what it leads to", async () => {
		const desk = openAt("/", one);
		await tap(/^Green film/);
		await screen.findByText(/Box 2: green film\. Ask in 3 weeks\./);
		expect(callsOf(desk, "answer")).toEqual([[one.tasks[0], "green_film", {}]]);
	});

	test("the cards come in the order in which the boxes stand", async () => {
		openAt("/", { ...one, tasks: [look(3, "2026-08-01"), look(1), look(2)] });
		const cards = await screen.findAllByRole("link", { name: /^[abc].*box/ });
		expect(cards.map((card) => card.getAttribute("href"))).toEqual([
			"/bench/box/box-1",
			"/bench/box/box-2",
			"/bench/box/box-3",
		]);
	});

	test("a trouble is one tap too", async () => {
		const desk = openAt("/", one);
		await tap("mould");
		await waitFor(() => expect(callsOf(desk, "answer")).toEqual([[one.tasks[0], "mould", {}]]));
	});

	test("not now asks again tomorrow", async () => {
		const desk = openAt("/", one);
		await tap(/^Not now/);
		await waitFor(() =>
			expect(callsOf(desk, "answer")).toEqual([[one.tasks[0], "later", { until: "2026-08-19" }]]),
		);
	});

	test("every answer says what it leads to", async () => {
		openAt("/", one);
		const answer = await screen.findByRole("button", { name: /^Nothing yet/ });
		expect(within(answer).getByText("leave it to the round")).toBeTruthy();
	});

	test("crossing out undoes it", async () => {
		const desk = openAt("/", one);
		await tap(/^Green film/);
		await tap(say("parts.saved.cross-out"));
		await waitFor(() => expect(desk.undone).toEqual(["answer"]));
	});

	test("with the task gone, the question goes", async () => {
		const desk = openAt("/", one);
		await screen.findByText(say("plans.first-look.question"));
		desk.tasks.value = [];
		await waitFor(() => expect(screen.queryByText(say("plans.first-look.question"))).toBeNull());
		expect(await title()).toBe("Leave all 3 alone today");
	});

	test("of two ferns under one lid, it is asked which", async () => {
		const box = boxOf({ n: 1, shelf: "north", taxon: "Osmunda regalis", part: "a" });
		const other = sowingOf({ n: 1, taxon: "Todea barbara", part: "b" }, "box-1");
		const desk = openAt("/", { today, records: [shelf, ...box, other], tasks: [look(1)] });
		const film = await screen.findByRole("button", { name: /^Green film/ });
		expect(film.hasAttribute("disabled")).toBe(true);
		await tap(/Todea/);
		await tap(/^Green film/);
		await waitFor(() =>
			expect(callsOf(desk, "answer")).toEqual([[look(1), "green_film", { sowing: "sowing-1b" }]]),
		);
	});

	test("the reason is one tap below", async () => {
		openAt("/", one);
		await tap(say("parts.why"));
		expect(await screen.findByText(new RegExp(say("plans.first-look.why")))).toBeTruthy();
	});
});

describe("the round", () => {
	const due = {
		today,
		records: [shelf, ...boxes(3)],
		tasks: [{ ...round, covers: ["box-1", "box-3"] }, look(2)],
	};

	test("is asked first, with the boxes that it covers", async () => {
		openAt("/", due);
		expect((await screen.findByText(/Walk the north shelf/)).textContent).toContain("2\u00a0boxes");
	});

	test("all as before is one answer, then the shelf is there for the odd ones", async () => {
		const desk = openAt("/", due);
		await tap(/^All as before/);
		await waitFor(() => expect(route.value.path).toBe("/bench/shelf/north"));
		expect(callsOf(desk, "answer")).toEqual([[due.tasks[0], "as_before", {}]]);
		expect(callsOf(desk, "walkShelf")).toEqual([]);
	});

	test("not today puts it off by a day and stays here", async () => {
		const desk = openAt("/", due);
		await tap(/^Not today/);
		await waitFor(() =>
			expect(callsOf(desk, "answer")).toEqual([[due.tasks[0], "later", { until: "2026-08-19" }]]),
		);
		expect(route.value.path).toBe("/");
	});

	test("after months away it says that nothing is late", async () => {
		openAt("/", scenes.long);
		expect(await screen.findByText(say("today.long.nothing-late"))).toBeTruthy();
	});

	test("after a week it says nothing of the kind", async () => {
		openAt("/", due);
		await screen.findByText(/Walk the north shelf/);
		expect(screen.queryByText(say("today.long.nothing-late"))).toBeNull();
	});

	test("an answer that could not be written leads nowhere", async () => {
		openAt("/", { ...due, failing: { code: "storage-full" } });
		await tap(/^All as before/);
		await screen.findByRole("alert");
		expect(route.value.path).toBe("/");
	});
});

describe("a newcomer", () => {
	test("begins with a shelf, a packet or a fern outside", async () => {
		openAt("/", { today, records: [] });
		await tap(/^Today’s shelf/);
		expect(route.value.path).toBe("/bench/here");
	});
});

describe("what is to be known beside the boxes", () => {
	test("signed out, held, questions, a newer version: each leads where it can be settled", async () => {
		const asked = record("place", "the ford");
		asked.questions = [
			{ kind: "record.described", field: "name", heads: ["a", "b"], values: ["x", "y"] },
		];
		const desk = openAt("/", {
			today,
			records: [asked],
			safety: {
				link: "signed-out",
				held: 1,
				refused: 1,
				updateReady: true,
				unsent: 3,
				oldestUnsentMs: 90_000_000,
			},
		});
		const leads = async (name: RegExp) =>
			(await screen.findByRole("link", { name })).getAttribute("href");
		expect(await leads(/signed out/)).toBe("/join");
		expect(await leads(/2 notes need fixing/)).toBe("/book/fixing");
		expect(await leads(/One thing to settle/)).toBe("/book/questions");
		expect(await leads(/3 notes are only on this phone/)).toBe("/book/only-here");
		await tap(/newer version/);
		expect(callsOf(desk, "update")).toEqual([[]]);
	});

	test("nothing of it when all is well", async () => {
		openAt("/", { today, records: boxes(1), safety: { unsent: 3, oldestUnsentMs: 60_000 } });
		await title();
		expect(screen.queryByText(/only on this phone/)).toBeNull();
		expect(screen.queryByRole("alert")).toBeNull();
	});

	test("the demo can be moved on, and only the demo", async () => {
		const desk = openAt("/", { today, records: boxes(1), demo: { today } });
		await tap(say("today.demo-next"));
		expect(callsOf(desk, "server.moveClock")).toEqual([["next"]]);
		cleanup();
		openAt("/", { today, records: boxes(1) });
		await title();
		expect(screen.queryByText(say("today.demo-next"))).toBeNull();
	});
});

describe("from a notice", () => {
	const one = { today, records: [shelf, ...boxes(3)], tasks: [look(2)] };
	const address = (id: string, more = "") => `/answer?task=${encodeURIComponent(id)}${more}`;

	test("its question is there; an answer that came along is marked, and is not written before a tap", async () => {
		const desk = openAt(address(look(2).id, "&code=green_film"), one);
		const film = await screen.findByRole("button", { name: /^Green film/ });
		expect(film.getAttribute("aria-pressed")).toBe("true");
		expect(desk.called).toEqual([]);
		await tap(/^Green film/);
		await waitFor(() => expect(callsOf(desk, "answer")).toHaveLength(1));
		await waitFor(() => expect(route.value.path).toBe("/"));
	});

	test("what was answered already says so, and what was said", async () => {
		const { id } = look(2);
		const records = [shelf, ...boxes(3)];
		const box = records.find((one) => one.id === "box-2");
		if (box)
			box.states[`task:${id}`] = {
				value: { task: id, answer: "later" },
				at: today,
				since: today,
				entry: "e",
			};
		openAt(address(id), { today, records, tasks: [] });
		expect(await title()).toBe(say("today.answer.gone"));
		expect(screen.getByText(say("plans.answer.later"))).toBeTruthy();
	});
});
