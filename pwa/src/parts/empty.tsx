import type { ComponentChildren } from "preact";
import { Pictogram, type PictogramName } from "./pictogram";
import { Row } from "./row";

/** Nothing yet: the drawing of what is missing, one sentence, one way to begin (in the sheet or as a child). */
export function Empty(props: {
	picture: PictogramName;
	words: ComponentChildren;
	under?: ComponentChildren;
	children?: ComponentChildren;
}) {
	return (
		<>
			<div class="row empty">
				<Pictogram name={props.picture} />
				<span class="w">
					<b>{props.words}</b>
					{props.under && <small>{props.under}</small>}
				</span>
			</div>
			{props.children}
		</>
	);
}

/** Longer than a second: a dashed crozier and a count; one can go on working. */
export function Waiting({ words, under }: { words: ComponentChildren; under?: ComponentChildren }) {
	return (
		<div class="row waiting" role="status">
			<svg class="pict" viewBox="0 0 48 48" fill="none" stroke="currentColor" aria-hidden="true">
				<path
					class="ns"
					stroke-linecap="round"
					stroke-dasharray="2 4.5"
					d="M14 47V26C14 13 20 5 28 5C36 5 41 12 40.4 20C40 27 35 31.4 29.6 31C24.4 30.6 21.4 26.6 22 22C22.5 17.6 25.6 15 29 15.6"
				/>
			</svg>
			<span class="w">
				<b>{words}</b>
				{under && <small>{under}</small>}
			</span>
		</div>
	);
}

/** Crossed out: it stays in its place, struck through, with who, when and why. */
export function CrossedOut({
	words,
	under,
}: {
	words: ComponentChildren;
	under: ComponentChildren;
}) {
	return <Row picture="do-cross-out" main={<s>{words}</s>} under={under} struck />;
}
