import type { ComponentChildren } from "preact";
import { Pictogram, type PictogramName } from "./pictogram";
import { go } from "./route";

/** Answers threaded on the line. */
export function Answers({ children }: { children: ComponentChildren }) {
	return <div class="answers">{children}</div>;
}

export interface AnswerProps {
	word: ComponentChildren;
	picture?: PictogramName | undefined;
	/** What the answer leads to, on the right. */
	then?: ComponentChildren;
	/** A longer consequence, under the word. */
	under?: ComponentChildren;
	/** Filled: only for save, scan, begin, "I am there", print. Never for what was seen. */
	main?: boolean | undefined;
	pressed?: boolean | undefined;
	disabled?: boolean | undefined;
	/** A screen that it opens … */
	to?: string | undefined;
	/** … or what it does. */
	onPress?: (() => void) | undefined;
	/** Submits the form around it. */
	submit?: boolean | undefined;
}

/** One answer: drawing, word, and what it leads to. */
export function Answer(props: AnswerProps) {
	const { word, picture, then, under, main, pressed, disabled, to, onPress, submit } = props;
	const classes = ["answer", main && "main", under && "tall"].filter(Boolean).join(" ");
	return (
		<button
			type={submit ? "submit" : "button"}
			class={classes}
			aria-pressed={pressed}
			disabled={disabled}
			onClick={to === undefined ? onPress : () => go(to)}
		>
			{picture && <Pictogram name={picture} />}
			<span class="word">
				{word}
				{under && <span class="under">{under}</span>}
			</span>
			{then && <span class="then">{then}</span>}
		</button>
	);
}

/** A square beside an answer, of a drawing alone (a photo): it needs its word in `label`. */
export function SideAnswer(props: {
	label: string;
	picture: PictogramName;
	pressed?: boolean | undefined;
	onPress: () => void;
}) {
	return (
		<button
			type="button"
			class="side"
			aria-label={props.label}
			aria-pressed={props.pressed}
			onClick={props.onPress}
		>
			<Pictogram name={props.picture} />
		</button>
	);
}

/** An answer and a square beside it. */
export function Beside({ children }: { children: ComponentChildren }) {
	return <div class="two">{children}</div>;
}
