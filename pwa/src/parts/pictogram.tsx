import type { PictogramName } from "./pictogram-names";
import sprite from "./sprite.svg?no-inline";

export type { PictogramName };

const pen = {
	fill: "none",
	stroke: "currentColor",
	"stroke-linecap": "round",
	"stroke-linejoin": "round",
} as const;

/** One drawing of the set. With a word beside it, it is silent; alone, it needs a `label`. */
export function Pictogram({ name, label }: { name: PictogramName; label?: string | undefined }) {
	const use = <use href={`${sprite}#${name}`} />;
	if (label)
		return (
			<svg class="pict" viewBox="0 0 48 48" {...pen} role="img" aria-label={label}>
				{use}
			</svg>
		);
	return (
		<svg class="pict" viewBox="0 0 48 48" {...pen} aria-hidden="true">
			{use}
		</svg>
	);
}

/** A drawing placed inside a chart; x, y and size in the units of the chart. */
export function ChartPictogram(props: { name: PictogramName; x: number; y: number; size: number }) {
	return (
		<svg
			class="pict-in"
			x={props.x}
			y={props.y}
			width={props.size}
			height={props.size}
			viewBox="0 0 48 48"
			aria-hidden="true"
			{...pen}
		>
			<use href={`${sprite}#${props.name}`} />
		</svg>
	);
}
