import type { ComponentChildren } from "preact";
import { OnlyHere } from "./only-here";

/** The curled tip of the line: this is where it grows. */
export function Tip() {
	return (
		<svg class="tip" viewBox="0 0 36 47" fill="none" stroke="var(--ink)" aria-hidden="true">
			<path
				class="ns"
				stroke-linecap="round"
				d="M14 47V20C14 9.5 18.6 2.6 24.6 2.6C31 2.6 34.6 8 34.2 14C33.8 19.6 30 23 25.8 22.8C21.8 22.6 19.4 19.4 19.8 15.6C20.2 12.2 22.8 10.2 25.4 10.6C27.8 11 29 13.2 28.4 15.2"
			/>
		</svg>
	);
}

/** One line of where and when, then the title, which says what is the case. */
export function Head({
	when,
	title,
	corner = true,
}: {
	when?: ComponentChildren;
	title: ComponentChildren;
	/** Only before anyone has said who they are is there nothing that could exist only here. */
	corner?: boolean;
}) {
	return (
		<header class="head line">
			<Tip />
			<div class="t">
				{when && <p class="when">{when}</p>}
				<h1>{title}</h1>
			</div>
			{corner && <OnlyHere />}
		</header>
	);
}
