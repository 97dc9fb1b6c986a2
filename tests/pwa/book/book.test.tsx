// @vitest-environment happy-dom
import { cleanup, screen, waitFor, within } from "@testing-library/preact";
import { afterEach, expect, test, vi } from "vitest";
import { route } from "../../../pwa/src/parts/route";
import { open, tap, told, write } from "../field/opened";
import { mirela } from "../gallery/fake-desk";
import { bookDesk, heldDay, heldRipeness, records, unsent } from "./shelf";

afterEach(() => {
	cleanup();
	vi.restoreAllMocks();
});

test("records by kind, and what wants settling first", async () => {
	open(bookDesk({ safety: { held: 1 } }), "/book");
	await screen.findByText("One note needs fixing");
	await tap(/Packets/, "link");
	await screen.findByRole("heading", { name: "Packets" });
	expect(screen.getByText("packet 58")).toBeTruthy();
	expect(screen.queryByText("plant 3")).toBeNull();
});

test("search asks the desk, keeps its words in the address, and opens what it found", async () => {
	const found = {
		record: "mv27",
		type: "gathering",
		label: "MV 27",
		name: null,
		in: "number" as const,
		text: "MV 27",
	};
	open(bookDesk({ found: [found] }), "/book");
	await write("Search", "27");
	await screen.findByRole("heading", { name: "One found" });
	expect(route.value.query.get("q")).toBe("27");
	await tap(/MV 27/, "link");
	expect(route.value.path).toBe("/book/record/mv27");
	open(bookDesk(), "/book?q=zzz");
	await screen.findByText("Nothing has these words.");
});

test("a record tells where it came from and what came of it", async () => {
	open(bookDesk(), "/book/record/mv27");
	await screen.findByRole("img", { name: /from plant 3 to box 17/ });
	expect(screen.getByRole("link", { name: /plant 3/ }).getAttribute("href")).toBe(
		"/book/record/lady",
	);
	expect(screen.getByRole("link", { name: /packet 58/ })).toBeTruthy();
	await screen.findByText(/Its name comes from plant 3: certain/);
});

test("a note is crossed out with a reason, and one crossed out stays readable and comes back", async () => {
	const desk = bookDesk();
	open(desk, "/book/record/box-17");
	await screen.findByText(/crossed out by MV, .*: “algae, not fern”/);
	await tap("bring back");
	await waitFor(() =>
		expect(told(desk, "strike")).toEqual([["strike", "crossing out was a mistake"]]),
	);
	const [first] = await screen.findAllByRole("button", { name: "cross out" });
	first?.click();
	await tap("Seen wrongly");
	await waitFor(() => expect(told(desk, "strike")[1]?.[1]).toBe("Seen wrongly"));
});

test("a reason in one's own words; none is none", async () => {
	const desk = bookDesk();
	open(desk, "/book/record/box-17");
	const [first] = await screen.findAllByRole("button", { name: "cross out" });
	first?.click();
	await tap("Write why");
	await tap("Cross it out");
	expect(told(desk, "strike")).toEqual([]);
	await write("Why it is wrong", "it was box 18");
	await tap("Cross it out");
	await waitFor(() => expect(told(desk, "strike")[0]?.[1]).toBe("it was box 18"));
});

test("two names: both are shown with who and when, and the answer goes to the question", async () => {
	const desk = bookDesk();
	open(desk, "/book/questions");
	await tap(/Two names for/, "link");
	await screen.findByText("Between MV and JO");
	const both = await screen.findAllByText("“Ostrel weir bank”");
	expect(both).toHaveLength(2);
	await tap(/Ostrel weir bank/);
	await waitFor(() => expect(told(desk, "answerQuestion")).toHaveLength(1));
	const [record, question, value] = told(desk, "answerQuestion")[0] ?? [];
	expect([record, value]).toEqual(["weir", "Ostrel weir bank"]);
	expect(question).toMatchObject({ kind: "record.described", field: "name" });
});

test("a position is asked about once, as a whole, with what is between the two", async () => {
	const desk = bookDesk();
	open(desk, "/book/questions");
	await screen.findByRole("heading", { name: "2 questions" });
	await tap(/Two places for/, "link");
	await screen.findByRole("img", { name: /Two fixes 20 m apart/ });
	await tap(/Where JO says/);
	await waitFor(() => expect(told(desk, "answerQuestion")[0]?.[2]).toBe(541239500));
});

test("not yet is an answer: nothing is written", async () => {
	const desk = bookDesk();
	open(desk, "/book/questions?q=weir%20record.described%20name", "/book/questions");
	await tap(/Not yet/);
	expect(route.value.path).toBe("/book/questions");
	expect(told(desk, "answerQuestion")).toEqual([]);
});

test("one number on two things: the younger becomes the same as the elder", async () => {
	const again = {
		...(records.find(({ id }) => id === "p58") as (typeof records)[number]),
		id: "p99",
	};
	const desk = bookDesk({ records: [...records, again] });
	open(desk, "/book/questions");
	await tap(/packet 58 stands on two/, "link");
	await tap(/One and the same/);
	await waitFor(() =>
		expect(told(desk, "describe")).toEqual([["p99", "record.described", { same_as: "p58" }]]),
	);
});

test("only here: three stores, what would be lost, why it waits, and a file that needs no signal", async () => {
	const desk = bookDesk({
		safety: {
			unsent: 4,
			oldestUnsentMs: 18_300_000,
			onServer: 1212,
			backedUp: 1198,
			link: "offline",
		},
		unsent,
	});
	open(desk, "/book/only-here");
	await screen.findByRole("heading", { name: "4 are only here" });
	await screen.findByText("MV 27: pinna cut");
	expect(document.body.textContent).toContain("1\u202f212");
	expect(document.body.textContent).toContain("No signal. They go up by themselves later");
	const clicked = vi.spyOn(HTMLAnchorElement.prototype, "click").mockImplementation(() => {});
	await tap(/Put in a file/);
	await screen.findByText(/The file is made: notes.json/);
	expect(clicked).toHaveBeenCalledOnce();
	await tap(/Send now/);
	expect(told(desk, "exchangeNow")).toHaveLength(1);
});

test.each([
	[{ link: "signed-out" as const }, /no longer knows this phone/],
	[{ link: "shut-out" as const }, /was shut out by an owner/],
	[{ link: "diverged" as const }, /went back to an older copy/],
	[{ link: "online" as const, clockOffMs: -420_000 }, /clock is 7 min off/],
	[{ link: "online" as const, clockOffMs: 200_000 }, null],
	[{ link: "online" as const, persisted: false }, /may clear this store/],
])("only here says of %j: %s", async (safety, words) => {
	open(bookDesk({ safety: { unsent: 1, oldestUnsentMs: 1000, ...safety } }), "/book/only-here");
	await screen.findByRole("heading", { name: "One is only here" });
	if (words) expect(document.body.textContent).toMatch(words);
	else expect(document.body.textContent).not.toMatch(/clock/);
});

test("a day that cannot be: the day it was written comes first, and only the day changes", async () => {
	const desk = bookDesk({ safety: { held: 1 }, fixing: [heldDay] });
	open(desk, "/book/fixing");
	await screen.findByText("This note counts nowhere yet.");
	expect(document.querySelector(".ringed")?.textContent).toMatch(/2062/);
	await tap(/3.*2026.*the day you wrote it|May.*2026/);
	await waitFor(() =>
		expect(told(desk, "fixHeld")).toEqual([["held-day", { density: "right" }, "2026-05-03"]]),
	);
});

test("a word that is none of some: only it is asked for, the rest of the note stays", async () => {
	const desk = bookDesk({ safety: { held: 1 }, fixing: [heldRipeness] });
	open(desk, "/book/fixing");
	await screen.findByText(/“brownish” is not a ripeness/);
	expect(document.querySelector(".ringed")?.textContent).toBe("ripeness: brownish");
	await tap("Cut now");
	await waitFor(() =>
		expect(told(desk, "fixHeld")).toEqual([
			["held-ripeness", { ripeness: "ripe", way: "eye" }, undefined],
		]),
	);
});

test("several that need fixing are shown one at a time", async () => {
	open(bookDesk({ safety: { held: 2 }, fixing: [heldRipeness, heldDay] }), "/book/fixing");
	await screen.findByText(/“brownish”/);
	await tap("Next: 1 more");
	await screen.findByText(/lies ahead/);
	expect(screen.queryByText(/“brownish”/)).toBeNull();
});

test("an owner invites by role, and gets a code, a link and how long it is good", async () => {
	const desk = bookDesk();
	open(desk, "/book/people");
	await screen.findByText("Jonna Orrit, JO");
	await tap(/Invite/);
	await tap(/^watcher/);
	await screen.findByText("4T7M-Q2RK");
	expect(told(desk, "server.invite")).toEqual([[{ role: "watcher" }]]);
	expect(document.body.textContent).toContain("https://ferns.example/join#4T7M-Q2RK");
	expect(document.body.textContent).toMatch(/Good once, until/);
});

test("a further phone of one's own is an invitation to oneself", async () => {
	const desk = bookDesk({ me: { ...mirela, role: "grower" } });
	open(desk, "/book/people");
	await tap(/A further phone of mine/);
	expect(screen.queryByRole("button", { name: /^owner/ })).toBeNull();
	await tap(/A further phone of mine/);
	await waitFor(() =>
		expect(told(desk, "server.invite")).toEqual([[{ role: "grower", person: "mirela" }]]),
	);
});

test("a phone is shut out only after it was said what that means; never the one in the hand", async () => {
	const desk = bookDesk();
	open(desk, "/book/people");
	await screen.findByText("Jonna’s phone");
	const ways = screen.getAllByRole("button", { name: "Shut out" });
	expect(ways).toHaveLength(1);
	await tap("Shut out");
	await screen.findByText(/It can fetch and send nothing more/);
	await tap("Shut it out");
	await waitFor(() => expect(told(desk, "server.shutOut")).toEqual([["jonna", "jo-phone"]]));
});

test("with no signal the people whom the records name are shown, and it is said why not more", async () => {
	const people = () => Promise.reject({ code: "no-signal", message: "" });
	open(bookDesk({ server: { people } }), "/book/people");
	await screen.findByText(/roles and phones need a signal/);
	expect(screen.getByText("Jonna Orrit")).toBeTruthy();
});

test("reminders write only what was changed", async () => {
	const desk = bookDesk();
	open(desk, "/book/reminders");
	const button = await screen.findByRole("button", { name: "Save" });
	expect((button as HTMLButtonElement).disabled).toBe(true);
	await write("Hour at which you are told", "07:30");
	await tap("number only");
	await tap("Save");
	await waitFor(() =>
		expect(told(desk, "setPerson")).toEqual([[{ notice_at: "07:30", detail: false }]]),
	);
});

test("notices are asked for from the tap; where they cannot be, it says why", async () => {
	const desk = bookDesk();
	open(desk, "/book/reminders");
	await tap(/Turn notices on/);
	expect(told(desk, "server.turnPushOn")).toHaveLength(1);
	const { signal } = await import("@preact/signals");
	open(bookDesk({ server: { push: signal("install-first" as const) } }), "/book/reminders");
	await screen.findByText(/only from the home screen/);
	expect(screen.queryByRole("button", { name: /Turn notices on/ })).toBeNull();
	open(bookDesk({ me: { ...mirela, logbook: null, joined: false } }), "/book/reminders");
	await screen.findByText(/needs a server/);
});

test("days away are spans; one is taken out by a tap", async () => {
	const desk = bookDesk({
		records: records.map((one) =>
			one.id === "mirela"
				? {
						...one,
						fields: {
							...one.fields,
							"person.described": {
								initials: "MV",
								away: [{ from: "2026-08-22", to: "2026-09-05" }],
							},
						},
					}
				: one,
		),
	});
	open(desk, "/book/reminders");
	await tap("take out");
	await waitFor(() => expect(told(desk, "setPerson")).toEqual([[{ away: [] }]]));
});

test("all ten cautions stand on one page", async () => {
	open(bookDesk(), "/book/cautions");
	const page = await screen.findByRole("main");
	expect(within(page).getAllByText(/\.$/).length).toBeGreaterThanOrEqual(10);
	for (const word of [
		"last fertile frond",
		"filtering mask",
		"93 °C",
		"never with ammonia",
		"ticks",
	])
		expect(page.textContent).toContain(word);
});
