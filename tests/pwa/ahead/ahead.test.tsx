// @vitest-environment happy-dom
import { cleanup, screen } from "@testing-library/preact";
import { afterEach, expect, test } from "vitest";
import { coming, ripeAgain } from "../../../pwa/src/screens/ahead/coming";
import { bookDesk, entries } from "../book/shelf";
import { open } from "../field/opened";
import { ladyNotes, stored } from "../field/wood";
import { task } from "../gallery/scenes";

afterEach(cleanup);

const today = "2026-08-18";
const film = task({
	subject: "box-17",
	rule: "green-film",
	due: "2026-09-01",
	until: "2026-09-22",
});
const look = task({
	subject: "box-17",
	rule: "first-look",
	due: "2026-08-24",
	until: "2026-09-14",
});
const round = task({ subject: "north", rule: "round", due: "2026-08-25", covers: ["box-17"] });
const now = task({ subject: "box-17", rule: "still-nothing", due: "2026-08-16" });

test("what is due now is not ahead; the next comes first; rounds stand apart", () => {
	expect(coming([film, now, round, look], today)).toEqual({ asks: [look, film], rounds: [round] });
});

test("the title says until when all may be left alone", async () => {
	open(bookDesk({ tasks: [film, round, look] }), "/ahead");
	await screen.findByRole("heading", { name: /Leave all alone until .*24/ });
	expect(document.body.textContent).toMatch(/24.*Aug.*14.*Sep|Aug.*24.*Sep.*14/);
	open(bookDesk({ tasks: [now, look] }), "/ahead");
	await screen.findByRole("heading", { name: /One wants you now, then .*24/ });
});

test("nothing is invented where nothing was sown or seen", async () => {
	open(bookDesk({ records: [], tasks: [] }), "/ahead");
	await screen.findByRole("heading", { name: "Nothing is coming yet" });
});

test("plants that were ripe later in the year are told with their years; those of before today are not", async () => {
	const young = stored("lady", "sori.seen", "2026-08-01", { ripeness: "young" });
	const past = ladyNotes.filter(({ entry }) => entry.at < "2026");
	const desk = bookDesk({ entries: [...entries, ...past, young] });
	const [first, ...rest] = await ripeAgain(desk);
	expect([first?.plant.id, first?.day, rest.length]).toEqual(["lady", "2026-08-27", 0]);
	open(desk, "/ahead");
	await screen.findByText(/plant 3: ripe between .*27.* and .*31.* in 2 years/);
	const early = bookDesk({
		entries: [stored("lady", "sori.seen", "2025-06-01", { ripeness: "ripe" })],
	});
	expect(await ripeAgain(early)).toEqual([]);
});
