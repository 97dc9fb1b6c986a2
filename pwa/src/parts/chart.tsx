import type { ComponentChildren } from "preact";

/** The two hatchings of every picture: slanting for windows, upright for shares. Once a page. */
export function Hatches() {
	return (
		<svg class="hatches" aria-hidden="true">
			<defs>
				<pattern
					id="hatch-window"
					width="6"
					height="6"
					patternUnits="userSpaceOnUse"
					patternTransform="rotate(45)"
				>
					<path class="hatch-line spore" d="M0 0V6" />
				</pattern>
				<pattern id="hatch-share" width="5" height="6" patternUnits="userSpaceOnUse">
					<path class="hatch-line fern" d="M1 0V6" />
				</pattern>
			</defs>
		</svg>
	);
}

/** A picture as wide as the page (390 units), whose axis can be the line at x = 28. `label` says what it shows. */
export function Chart(props: {
	height: number;
	width?: number | undefined;
	label: string;
	children: ComponentChildren;
}) {
	return (
		<svg
			class="chart"
			viewBox={`0 0 ${props.width ?? 390} ${props.height}`}
			role="img"
			aria-label={props.label}
		>
			{props.children}
		</svg>
	);
}

export interface ChartTextProps {
	x: number;
	y: number;
	children: ComponentChildren;
	anchor?: "start" | "middle" | "end" | undefined;
	size?: number | undefined;
	bold?: boolean | undefined;
	soft?: boolean | undefined;
	italic?: boolean | undefined;
}

export function ChartText(props: ChartTextProps) {
	const classes = [props.size === undefined && "s", props.soft && "soft"].filter(Boolean).join(" ");
	return (
		<text
			x={props.x}
			y={props.y}
			text-anchor={props.anchor ?? "start"}
			class={classes}
			font-size={props.size ?? 17}
			font-weight={props.bold ? 700 : 400}
			font-style={props.italic ? "italic" : undefined}
		>
			{props.children}
		</text>
	);
}
