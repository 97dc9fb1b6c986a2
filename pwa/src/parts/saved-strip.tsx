import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import type { Saved } from "../records/desk";
import { ErrorPart, faultOf } from "./error";
import { Pictogram } from "./pictogram";
import { say } from "./say";

export interface JustSaved {
	/** What was written, as a sentence. */
	words: ComponentChildren;
	/** Cross all of it out again. */
	crossOut: (() => Promise<unknown>) | null;
}

interface Strip extends JustSaved {
	/** Tells one strip from the next, so that each has its full time. */
	turn: number;
}

const strip = signal<Strip | null>(null);
const fault = signal<unknown>(null);
let turn = 0;
let saving = false;

/** Say what was saved, for 8 s, with the way to cross it out. Call only when the verb has resolved. */
export function showSaved(saved: JustSaved): void {
	turn += 1;
	fault.value = null;
	strip.value = { ...saved, turn };
}

/** Say that something did not work (a camera, an exchange), where the strip stands. */
export function showFault(thrown: unknown): void {
	strip.value = null;
	fault.value = thrown;
}

export function hideSaved(): void {
	strip.value = null;
	fault.value = null;
}

/**
 * Do a verb and say what became of it: the strip once it is on the phone, or what went wrong, which stays until
 * something else is said. A second tap while the first is being written does nothing (null).
 */
export async function save(
	words: ComponentChildren,
	verb: () => Promise<Saved>,
): Promise<Saved | null> {
	if (saving) return null;
	saving = true;
	try {
		const saved = await verb();
		showSaved({ words, crossOut: () => saved.undo(say("parts.saved.reason")) });
		return saved;
	} catch (thrown) {
		strip.value = null;
		fault.value = thrown;
		return null;
	} finally {
		saving = false;
	}
}

async function crossOut(shown: Strip): Promise<void> {
	if (!shown.crossOut) return;
	try {
		await shown.crossOut();
		showSaved({ words: say("parts.saved.crossed-out"), crossOut: null });
	} catch (thrown) {
		fault.value = thrown;
	}
}

/** The strip over the sheet. The style sheet keeps its time: its animation ends after 8 s. */
export function SavedStrip() {
	const shown = strip.value;
	return (
		<div class="strip-place">
			<div role="status">
				{shown && (
					<div
						class="strip"
						key={shown.turn}
						onAnimationEnd={(event) => {
							if (event.animationName === "strip-time") hideSaved();
						}}
					>
						<Pictogram name="do-yes" />
						<p>
							{shown.words} <span class="small">{say("parts.saved.here")}</span>
						</p>
						{shown.crossOut && (
							<button type="button" class="why" onClick={() => void crossOut(shown)}>
								{say("parts.saved.cross-out")}
							</button>
						)}
					</div>
				)}
			</div>
			{fault.value !== null && <ErrorPart fault={faultOf(fault.value)} />}
		</div>
	);
}
