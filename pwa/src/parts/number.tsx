import type { ComponentChildren } from "preact";

/** The one thing held at arm's length, on a tied label as wide as the page: to be copied before saving. */
export function BigNumber({ number, aside }: { number: string; aside?: ComponentChildren }) {
	return (
		<div class="number">
			<b class={[...number].length > 6 ? "long" : undefined}>{number}</b>
			{aside && <span>{aside}</span>}
		</div>
	);
}
