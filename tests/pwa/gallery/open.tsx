/** Opens a screen of the app on a fake desk, as a person would come to it, and taps what bears a name. */
import { fireEvent, render, screen } from "@testing-library/preact";
import { DeskContext } from "../../../pwa/src/parts/desk";
import { go } from "../../../pwa/src/parts/route";
import { Screens } from "../../../pwa/src/screens";
import { type FakeDesk, fakeDesk, type Shown } from "./fake-desk";

export function openAt(path: string, shown: Shown = {}): FakeDesk {
	const desk = fakeDesk(shown);
	go(path);
	render(
		<DeskContext.Provider value={desk}>
			<Screens />
		</DeskContext.Provider>,
	);
	return desk;
}

export async function tap(name: string | RegExp, role: "button" | "link" = "button") {
	fireEvent.click(await screen.findByRole(role, { name }));
}

export const title = async (): Promise<string> =>
	(await screen.findByRole("heading", { level: 1 })).textContent ?? "";

/** The calls of one verb, as its arguments. */
export const callsOf = (desk: FakeDesk, verb: string): unknown[][] =>
	desk.called.filter((call) => call.verb === verb).map(({ args }) => args);
