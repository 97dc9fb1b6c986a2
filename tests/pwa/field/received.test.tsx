// @vitest-environment happy-dom
import { cleanup, fireEvent, screen, waitFor } from "@testing-library/preact";
import { afterEach, expect, test } from "vitest";
import { route } from "../../../pwa/src/parts/route";
import { record } from "../gallery/records";
import { open, tap, thumb, told, write } from "./opened";
import { stored, woodDesk } from "./wood";

afterEach(cleanup);

const packet = {
	...record("packet", "packet 61", { id: "p61", facts: { "packet.received": "2026-05-03" } }),
	facts: ["came-ek"],
};
const came = stored("p61", "packet.received", "2026-05-03", { from: "EK" }, { id: "came-ek" });
const desk = () => woodDesk({ records: [packet], entries: [came] });

test("three taps and nothing typed: photo, it stays in the photo, from whom", async () => {
	const phone = desk();
	open(phone, "/field/received");
	const camera = await screen.findByLabelText("Take a photo");
	const photo = new File(["jpeg"], "packet.jpg", { type: "image/jpeg" });
	thumb.taps += 1;
	fireEvent.change(camera, { target: { files: [photo] } });
	await tap(/It stays in the photo/);
	await tap(/^EK/);
	await waitFor(() => expect(told(phone, "receive")).toHaveLength(1));
	expect(thumb.taps).toBe(3);
	expect(told(phone, "receive")[0]).toEqual([
		{ from: "EK", photo: { sha256: "00", bytes: 1, type: "image/jpeg", w: 1, h: 1 } },
	]);
	expect(route.value.path).toBe("/field");
});

test("the name as written, from someone new, with what else is on it; no place is asked for", async () => {
	const phone = desk();
	open(phone, "/field/received");
	await tap(/Write the name instead/);
	await write("Name as written", "Dicksonia sp., gardn");
	await tap(/That is what it says/);
	await tap("Their number, year, what it is");
	await write("Their number", "214");
	await write("Year, as written", "about 2017");
	await tap("spores");
	await tap(/Someone else/);
	await write("From whom", "the spring exchange");
	await tap("Save the packet");
	await waitFor(() =>
		expect(told(phone, "receive")[0]).toEqual([
			{
				asWritten: "Dicksonia sp., gardn",
				from: "the spring exchange",
				theirNumber: "214",
				year: "about 2017",
				what: "spores",
			},
		]),
	);
	expect(document.body.textContent).not.toContain("Where is it?");
});

test("a packet that crossed-out notes alone speak of names nobody", async () => {
	const phone = woodDesk({ records: [{ ...packet, facts: [] }], entries: [came] });
	open(phone, "/field/received");
	await tap(/Write the name instead/);
	await tap(/That is what it says/);
	await screen.findByRole("button", { name: /Not known/ });
	expect(screen.queryByRole("button", { name: /^EK/ })).toBeNull();
	await tap(/Not known/);
	await waitFor(() => expect(told(phone, "receive")).toEqual([[{}]]));
});

test("half a form is found again", async () => {
	const phone = desk();
	open(phone, "/field/received");
	await tap(/Write the name instead/);
	await write("Name as written", "Osmunda");
	const left = await phone.draft.load("field.received");
	const again = desk();
	again.draft.keep("field.received", left as never);
	open(again, "/field/received");
	const line = await screen.findByLabelText("Name as written");
	expect((line as HTMLInputElement).value).toBe("Osmunda");
});
