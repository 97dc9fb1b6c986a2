import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { Hatches } from "./chart";
import { Head } from "./head";
import { type PlaceName, PlacesBar } from "./places-bar";
import { route } from "./route";
import { SavedStrip } from "./saved-strip";
import { say } from "./say";
import { Sheet } from "./sheet";

export interface PageProps {
	/** Which of the five places this screen belongs to; none while nobody has said who they are. */
	place?: PlaceName | undefined;
	/** Where and when, above the title. */
	when?: ComponentChildren;
	/** What is the case. */
	title: ComponentChildren;
	/** Plain words for the window, where the title holds drawn things. */
	windowTitle?: string | undefined;
	/** What lies under the thumb: the one thing asked now. */
	sheet?: ComponentChildren;
	children?: ComponentChildren;
}

/** A whole screen: head, what is read, the strip of what was just saved, the sheet, the places. */
export function Page({ place, when, title, windowTitle, sheet, children }: PageProps) {
	const top = useRef<HTMLElement>(null);
	const path = route.value.path;
	const words = windowTitle ?? (typeof title === "string" ? title : null);
	useEffect(() => {
		document.title = words ? say("parts.window-title", { title: words }) : say("parts.window");
	}, [words]);
	// A new screen begins at its top, for the eye and for a screen reader.
	useEffect(() => {
		if (path && top.current) top.current.scrollTop = 0;
	}, [path]);
	return (
		<div class={place ? "phone" : "phone no-places"}>
			<Hatches />
			<Head when={when} title={title} corner={place !== undefined} />
			<main class="line" ref={top}>
				{children}
			</main>
			<SavedStrip />
			{sheet && <Sheet>{sheet}</Sheet>}
			{place && <PlacesBar place={place} />}
		</div>
	);
}
