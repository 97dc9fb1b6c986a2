import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";
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
let turn = 0;

/** Say what was saved, for 8 s, with the way to cross it out. Call only when the verb has resolved. */
export function showSaved(saved: JustSaved): void {
	turn += 1;
	strip.value = { ...saved, turn };
}

/** Take the strip away (a screen that is left in a hurry need not). */
export function hideSaved(): void {
	strip.value = null;
}

async function crossOut(shown: Strip): Promise<void> {
	if (!shown.crossOut) return;
	await shown.crossOut();
	showSaved({ words: say("parts.saved.crossed-out"), crossOut: null });
}

/** The strip over the sheet. The style sheet keeps its time: its animation ends after 8 s. */
export function SavedStrip() {
	const shown = strip.value;
	return (
		<div class="strip-place" role="status">
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
	);
}
