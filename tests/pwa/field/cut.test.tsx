// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen, waitFor } from "@testing-library/preact";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { DeskContext } from "../../../pwa/src/parts/desk";
import { go, route } from "../../../pwa/src/parts/route";
import { hideSaved } from "../../../pwa/src/parts/saved-strip";
import { Screens } from "../../../pwa/src/screens";
import type { FakeDesk } from "../gallery/fake-desk";
import { atLady, woodDesk } from "./wood";

let taps = 0;

/** Open the app cold at `path` on this desk. */
function open(desk: FakeDesk, path: string) {
	go(path);
	taps = 0;
	render(
		<DeskContext.Provider value={desk}>
			<Screens />
		</DeskContext.Provider>,
	);
}

async function tap(name: string | RegExp, role: "button" | "link" = "button") {
	const thing = await screen.findByRole(role, { name });
	taps += 1;
	fireEvent.click(thing);
}

const cutsOf = (desk: FakeDesk) =>
	desk.called.filter(({ verb }) => verb === "cut").map(({ args }) => args[0]);

beforeEach(() => {
	hideSaved();
	// This DOM has no history to go back in: the screen below the panel is the cut.
	vi.spyOn(history, "back").mockImplementation(() => go("/field/cut", { replace: true }));
});
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
	expect(taps).toBe(5);
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
	fireEvent.input(await screen.findByLabelText("Name, or part of it"), {
		target: { value: "dryo fil" },
	});
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
	fireEvent.input(await screen.findByLabelText("Name, or part of it"), {
		target: { value: "the frilly one" },
	});
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
