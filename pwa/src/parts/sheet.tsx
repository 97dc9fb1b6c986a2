import type { ComponentChildren } from "preact";
import { Link } from "./route";
import { say } from "./say";

/** What the thumb can reach: the one thing asked now. */
export function Sheet({ children }: { children: ComponentChildren }) {
	return (
		<section class="hand line" aria-label={say("parts.sheet")}>
			{children}
		</section>
	);
}

/** The question over the answers. */
export function Ask({ children }: { children: ComponentChildren }) {
	return (
		<div class="ask">
			<h2>{children}</h2>
		</div>
	);
}

/** A small sentence under or above the answers: a caution, what is safe. */
export function Remark({ children }: { children: ComponentChildren }) {
	return (
		<div class="ask">
			<p class="small">{children}</p>
		</div>
	);
}

/** The two lesser ways, under the answers; an aside leaves on a short screen. */
export function Foot({ aside, children }: { aside?: boolean; children: ComponentChildren }) {
	return <div class={aside ? "foot aside" : "foot"}>{children}</div>;
}

/** An underlined word that goes somewhere (`to`) or does something (`onPress`). */
export function Way(props: {
	to?: string | undefined;
	onPress?: (() => void) | undefined;
	children: ComponentChildren;
}) {
	if (props.to !== undefined)
		return (
			<Link class="why" to={props.to}>
				{props.children}
			</Link>
		);
	return (
		<button type="button" class="why" onClick={props.onPress}>
			{props.children}
		</button>
	);
}
