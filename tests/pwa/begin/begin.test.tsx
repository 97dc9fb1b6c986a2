// @vitest-environment happy-dom
import { cleanup, screen, waitFor } from "@testing-library/preact";
import { afterEach, expect, test } from "vitest";
import { route } from "../../../pwa/src/parts/route";
import { invitationCode } from "../../../pwa/src/screens/begin/code";
import { asInitials, initialsOf } from "../../../pwa/src/screens/begin/initials";
import { installOffer } from "../../../pwa/src/screens/begin/install";
import { open, tap, told, write } from "../field/opened";
import { woodDesk } from "../field/wood";
import { mirela } from "../gallery/fake-desk";

afterEach(() => {
	cleanup();
	installOffer.value = null;
	Reflect.deleteProperty(navigator, "standalone");
});

const newPhone = () => woodDesk({ state: "unclaimed", me: null, records: [] });

test("begin with a name and initials, and nothing else", async () => {
	const desk = newPhone();
	open(desk, "/book");
	await tap(/Begin on this phone/);
	await write("Your name", "Mirela Vask");
	await screen.findByText("MV 1");
	expect(screen.getAllByRole("textbox")).toHaveLength(2);
	await tap("Begin");
	await waitFor(() =>
		expect(told(desk, "claim")).toEqual([[{ name: "Mirela Vask", initials: "MV" }]]),
	);
});

test("initials alone will do; no letters at all will not", async () => {
	const desk = newPhone();
	open(desk, "/?begin=here");
	await tap("Begin");
	await screen.findByText(/Write a name/);
	await write("Initials", "jo");
	await tap("Begin");
	await waitFor(() => expect(told(desk, "claim")).toEqual([[{ name: "JO", initials: "JO" }]]));
});

test("on an iPhone's Safari page the home screen comes first, with the reason", async () => {
	Object.defineProperty(navigator, "standalone", { value: false, configurable: true });
	open(newPhone(), "/");
	await screen.findByText("First add sporeline to your home screen.");
	expect(document.body.textContent).toContain("stays behind when you add it later");
	Object.defineProperty(navigator, "standalone", { value: true, configurable: true });
	open(newPhone(), "/");
	await screen.findByText("How do you begin?");
	expect(screen.queryByText("First add sporeline to your home screen.")).toBeNull();
});

test("a link that was opened brings its code, which leaves the address", async () => {
	const desk = newPhone();
	open(desk, "/join#4t7m-q2rk");
	await screen.findByRole("heading", { name: "Join with 4T7M-Q2RK" });
	expect(location.hash).toBe("");
	await write("Your name", "Jonna Orrit");
	await tap(/^Join/);
	await waitFor(() =>
		expect(told(desk, "join")).toEqual([
			[{ code: "4T7M-Q2RK", name: "Jonna Orrit", initials: "JO" }],
		]),
	);
	expect(route.value.path).toBe("/");
});

test("a further phone of somebody needs no name; a code that cannot be is not sent", async () => {
	const desk = newPhone();
	open(desk, "/join");
	await write("Code", "4T7M-Q2RO");
	await screen.findByText(/There is no 0, 1, I, L, O or U in it/);
	await tap(/^Join/);
	await screen.findByRole("alert");
	expect(told(desk, "join")).toEqual([]);
	await write("Code", "4T7M Q2RK");
	await tap(/^Join/);
	await waitFor(() => expect(told(desk, "join")).toEqual([[{ code: "4T7M-Q2RK" }]]));
});

test("who has begun already brings all of it along", async () => {
	const desk = woodDesk({ me: { ...mirela, logbook: null, joined: false } });
	open(desk, "/join#4T7MQ2RK");
	await screen.findByText(/They all come with you/);
	await screen.findByRole("heading", { name: "Join with 4T7M-Q2RK" });
	await tap(/Join, and bring all of it/);
	await waitFor(() =>
		expect(told(desk, "join")).toEqual([[{ code: "4T7M-Q2RK", bringAll: true }]]),
	);
});

test("a failed join says what happened and keeps the form", async () => {
	const desk = woodDesk({
		state: "unclaimed",
		me: null,
		failing: { code: "no-such-invitation" },
	});
	open(desk, "/join#4T7MQ2RK");
	await screen.findByRole("heading", { name: "Join with 4T7M-Q2RK" });
	await tap(/^Join/);
	await screen.findByText("No invitation has this code.");
	expect((screen.getByLabelText("Code") as HTMLInputElement).value).toBe("4T7M-Q2RK");
});

test("the home screen is offered after the first notes of one's own, once", async () => {
	const offer = { prompt: async () => ({ outcome: "accepted" as const }) };
	const fresh = woodDesk({ records: [], safety: { unsent: 2, onServer: 0 } });
	installOffer.value = offer as never;
	open(fresh, "/field");
	await screen.findByText("No plants yet.");
	expect(screen.queryByText("Keep sporeline on the home screen?")).toBeNull();
	const used = woodDesk({ safety: { unsent: 6, onServer: 0 } });
	open(used, "/field");
	await screen.findByText("Keep sporeline on the home screen?");
	await tap("Not now");
	open(used, "/field");
	await screen.findByText("Last seen first");
	expect(screen.queryByText("Keep sporeline on the home screen?")).toBeNull();
});

test.each([
	["https://ferns.example/join#4T7M-Q2RK", "4T7M-Q2RK"],
	["4t7mq2rk", "4T7M-Q2RK"],
	[" 4T7M – Q2RK ", "4T7M-Q2RK"],
	["4T7M-Q2R", null],
	["4T7M-Q2RL", null],
	["", null],
])("the code in %j is %j", (written, code) => {
	expect(invitationCode(written)).toBe(code);
});

test.each([
	["Mirela Vask", "MV"],
	["jonna", "J"],
	["Ana de la Cruz", "AC"],
	["  ", ""],
])("initials of %j are %j", (name, initials) => {
	expect(initialsOf(name)).toBe(initials);
});

test("initials are one to four letters", () => {
	expect(asInitials(" mv ")).toBe("MV");
	expect(asInitials("ÅÖ")).toBe("ÅÖ");
	expect(asInitials("M.V.")).toBeNull();
	expect(asInitials("")).toBeNull();
	expect(asInitials("ABCDE")).toBeNull();
});
