// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from "@testing-library/preact";
import { afterEach, expect, test } from "vitest";
import { go, route } from "../../../pwa/src/parts/route";
import type { FakeDesk } from "../gallery/fake-desk";
import { open as openAt, tap, thumb, told, write } from "./opened";
import { atLady, woodDesk } from "./wood";

const open = (desk: FakeDesk, path: string) => openAt(desk, path, "/field/cut");
const cutsOf = (desk: FakeDesk) => told(desk, "cut").map(([input]) => input);

afterEach(cleanup);

test("from a cold start to a saved cut: five taps, nothing typed, at a known plant", async () => {
	const desk = woodDesk({}, atLady);
	open(desk, "/");
	await tap("Field", "link");
	await tap(/^Cut/);
	await screen.findByText("MV 28");
	await tap("Cut now");
	await tap("pinna");
	await tap("Save the cut");
	await waitFor(() => expect(cutsOf(desk)).toHaveLength(1));
	expect(thumb.taps).toBe(5);
	expect(cutsOf(desk)[0]).toEqual({
		number: "MV 28",
		taken: "pinna",
		plant: "lady",
		place: "ford",
		grown: "wild",
		owner: "the wood’s keeper",
		permit: "asked at the gate",
		ripeness: "ripe",
	});
	await screen.findByText(/MV 28 is cut/);
	expect(route.value.path).toBe("/field");
});

test("where nothing is known it is saved as it is: no fern, no place, no plant", async () => {
	const desk = woodDesk({ records: [] });
	open(desk, "/field/cut");
	await screen.findByText("Not named yet");
	await tap("frond");
	await tap("Save the cut");
	await waitFor(() => expect(cutsOf(desk)).toEqual([{ number: "MV 28", taken: "frond" }]));
});

test("how ripe and how much are not preset, and how much is asked for before it is saved", async () => {
	const desk = woodDesk({}, atLady);
	open(desk, "/field/cut");
	await screen.findByText("Cut now");
	for (const word of ["No sori", "Come back", "Nearly", "Cut now", "Mostly gone", "Can’t tell"])
		expect(screen.getByRole("button", { name: word }).getAttribute("aria-pressed")).toBe("false");
	for (const word of ["pinna", "part", "frond", "more"])
		expect(screen.getByRole("button", { name: word }).getAttribute("aria-pressed")).toBe("false");
	await tap("Save the cut");
	await screen.findByText("How much was taken? Then it is saved.");
	expect(cutsOf(desk)).toEqual([]);
});

test("once touched, what was offered no longer moves with the position", async () => {
	const desk = woodDesk({}, atLady);
	open(desk, "/field/cut");
	await tap("Nearly");
	Object.assign(desk.position, { value: { state: "here", fix: { ...atLady, lat_e7: 541000000 } } });
	await tap("part");
	await tap("Save the cut");
	await waitFor(() =>
		expect(cutsOf(desk)[0]).toMatchObject({ plant: "lady", ripeness: "turning" }),
	);
});

test("a form that was left is found again as it was, and an old one keeps its day and place", async () => {
	const desk = woodDesk({ today: "2026-08-18" }, atLady);
	open(desk, "/field/cut");
	await tap("Nearly");
	const left = await desk.draft.load("field.cut");
	cleanup();
	const later = woodDesk({ today: "2026-08-20" });
	later.draft.keep("field.cut", left as never);
	open(later, "/field/cut");
	await screen.findByRole("heading", { name: /Cut of .*18.*, 14:20/ });
	expect(screen.getByRole("button", { name: "Nearly" }).getAttribute("aria-pressed")).toBe("true");
	await tap("pinna");
	await tap("Save the cut");
	await waitFor(() =>
		expect(cutsOf(later)[0]).toMatchObject({ at: "2026-08-18T14:20:00+01:00", fix: atLady }),
	);
	expect(await later.draft.load("field.cut")).toBeUndefined();
});

test("a cut that could not be saved stays in its form, and says so", async () => {
	const desk = woodDesk({ failing: { code: "storage-full" } }, atLady);
	open(desk, "/field/cut");
	await tap("pinna");
	await tap("Save the cut");
	await screen.findByRole("alert");
	expect(await desk.draft.load("field.cut")).toMatchObject({ taken: "pinna" });
	expect(route.value.path).toBe("/field/cut");
});

test("another fern: chosen from the list with how sure, and the plant stays", async () => {
	const desk = woodDesk({}, atLady);
	open(desk, "/field/cut?choose=fern");
	await write("Name, or part of it", "dryo fil");
	await tap(/Dryopteris filix/);
	await tap(/Looks like it/);
	await tap("part");
	await tap("Save the cut");
	await waitFor(() =>
		expect(cutsOf(desk)[0]).toMatchObject({
			plant: "lady",
			naming: { taxon: "Dryopteris filix-mas", sure: "probable", qualifier: "cf" },
		}),
	);
});

test("a name that no list has is kept as written, and not known is an answer", async () => {
	const desk = woodDesk({}, atLady);
	open(desk, "/field/cut?choose=fern");
	await write("Name, or part of it", "the frilly one");
	await tap(/the frilly one/);
	await tap("Probable");
	await screen.findByText("the frilly one");
	go("/field/cut?choose=fern");
	await tap(/Not known/);
	await tap("part");
	await tap("Save the cut");
	await waitFor(() =>
		expect(cutsOf(desk)[0]).toMatchObject({ naming: { taxon: null, sure: "unknown" } }),
	);
});
