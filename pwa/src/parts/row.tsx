import type { ComponentChildren } from "preact";
import { Pictogram, type PictogramName } from "./pictogram";
import { Link } from "./route";

export interface RowProps {
	/** The drawing on the line. */
	picture?: PictogramName | undefined;
	/** What to do, or what it is: bold. */
	main?: ComponentChildren;
	/** The thing and its name, below. */
	under?: ComponentChildren;
	/** When, at the right. */
	right?: ComponentChildren;
	/** The whole row opens this screen. */
	to?: string | undefined;
	onPress?: (() => void) | undefined;
	/** A heavy square round the drawing, the words in its colour. */
	alarm?: boolean | undefined;
	/** Struck through: crossed out, but readable. */
	struck?: boolean | undefined;
	/** May leave on a short screen. */
	aside?: boolean | undefined;
}

/** A thing hung on the line. Not a card: a drawing, a bold word, its thing below. */
export function Row(props: RowProps) {
	const { picture, main, under, right, to, onPress, alarm, struck, aside } = props;
	const classes = ["row", alarm && "alarm", struck && "struck", aside && "aside"]
		.filter(Boolean)
		.join(" ");
	const inside = (
		<>
			{picture && <Pictogram name={picture} />}
			<span class="w">
				{main && <b>{main}</b>}
				{under && <small>{under}</small>}
			</span>
			{right && <span class="r">{right}</span>}
		</>
	);
	if (to !== undefined)
		return (
			<Link class={classes} to={to}>
				{inside}
			</Link>
		);
	if (onPress)
		return (
			<button type="button" class={classes} onClick={onPress}>
				{inside}
			</button>
		);
	return <div class={classes}>{inside}</div>;
}

/** A remark: a dot on the line and a sentence. */
export function Node({ children }: { children: ComponentChildren }) {
	return (
		<div class="row node">
			<span class="w small">{children}</span>
		</div>
	);
}

/** A step of a sitting: filled when done, large now, open to come. */
export function Step(props: {
	state: "done" | "now" | "todo";
	word: ComponentChildren;
	under?: ComponentChildren;
	right?: ComponentChildren;
	onPress?: (() => void) | undefined;
}) {
	const inside = (
		<>
			<span class="knot" />
			<span class="w">
				<b>{props.word}</b>
				{props.under && <small>{props.under}</small>}
			</span>
			{props.right && <span class="r">{props.right}</span>}
		</>
	);
	const classes = `row steprow ${props.state}`;
	const now = props.state === "now" ? ("step" as const) : undefined;
	if (props.onPress)
		return (
			<button type="button" class={classes} aria-current={now} onClick={props.onPress}>
				{inside}
			</button>
		);
	return (
		<div class={classes} aria-current={now}>
			{inside}
		</div>
	);
}

/** A heading between rows: bold word, soft remark. */
export function Group({ word, remark }: { word: ComponentChildren; remark?: ComponentChildren }) {
	return (
		<div class="pad grp">
			<h2 class="grp-word">{word}</h2> {remark && <span class="small">{remark}</span>}
		</div>
	);
}

/** A sentence at the words' edge. */
export function Say({ children }: { children: ComponentChildren }) {
	return (
		<div class="pad">
			<p>{children}</p>
		</div>
	);
}

/** The same in second words. */
export function Small({ children }: { children: ComponentChildren }) {
	return (
		<div class="pad">
			<p class="small">{children}</p>
		</div>
	);
}

export const Gap = () => <div class="gap" />;
