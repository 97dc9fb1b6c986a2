/** The app on a fake desk, opened cold at an address, and a thumb that is counted. */
import { cleanup, configure, fireEvent, render, screen } from "@testing-library/preact";
import { vi } from "vitest";
import { DeskContext } from "../../../pwa/src/parts/desk";
import { go } from "../../../pwa/src/parts/route";
import { hideSaved } from "../../../pwa/src/parts/saved-strip";
import { Screens } from "../../../pwa/src/screens";
import type { FakeDesk } from "../gallery/fake-desk";

// The first screen of a file is read from disk.
configure({ asyncUtilTimeout: 5000 });

export const thumb = { taps: 0 };

/** `below`: where "back" leads; this DOM has no history to go back in. */
export function open(desk: FakeDesk, path: string, below = "/"): void {
	cleanup();
	hideSaved();
	vi.spyOn(history, "back").mockImplementation(() => go(below, { replace: true }));
	go(path);
	thumb.taps = 0;
	render(
		<DeskContext.Provider value={desk}>
			<Screens />
		</DeskContext.Provider>,
	);
}

export async function tap(
	name: string | RegExp,
	role: "button" | "link" = "button",
): Promise<void> {
	const thing = await screen.findByRole(role, { name });
	thumb.taps += 1;
	fireEvent.click(thing);
}

export async function write(label: string, value: string): Promise<void> {
	fireEvent.input(await screen.findByLabelText(label), { target: { value } });
}

/** What a verb was told, call by call. */
export const told = (desk: FakeDesk, verb: string): unknown[][] =>
	desk.called.filter((call) => call.verb === verb).map(({ args }) => args);
