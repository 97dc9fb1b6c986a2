import { ChartPictogram, type PictogramName } from "./pictogram";

/** What grows along the bottom of a drawn box, roughest form of `growth`. */
export type BoxGrowth = "nothing" | "green_film" | "prothalli" | "first_fronds" | "winter_rest";

/** Outline of a lidded box with its corner at x, y. */
export function boxPath(x: number, y: number, w: number, h: number): string {
	const lid = h * 0.16;
	const inset = w * 0.07;
	const lean = w * 0.05;
	const down = h - lid;
	return (
		`M${x} ${y}h${w}v${lid}h${-w}z` +
		`M${x + inset} ${y + lid}l${lean} ${down}h${w - 2 * inset - 2 * lean}l${lean} ${-down}`
	);
}

/** A wave, a heart or two sprigs, standing at m, y. */
function growthPath(growth: BoxGrowth, m: number, y: number): string | null {
	const sprig = (x: number) => `M${x} ${y}v-8m0 5l-4 -4m4 4l4 -4`;
	if (growth === "green_film") return `M${m - 9} ${y}q3 -5 6 0t6 0t6 0`;
	if (growth === "prothalli")
		return `M${m} ${y}c-7 -4 -6 -9 -2.6 -9c1.6 0 2.6 1.4 2.6 2.6c0 -1.2 1 -2.6 2.6 -2.6c3.4 0 4.4 5 -2.6 9`;
	if (growth === "first_fronds" || growth === "winter_rest") return sprig(m - 5.5) + sprig(m + 5.5);
	return null;
}

export interface LiddedBoxProps {
	number: string;
	growth?: BoxGrowth | undefined;
	/** What was seen on this round: the number moves to the lid, the box shows it. */
	seen?: PictogramName | undefined;
	/** It has a card of its own: dotted. */
	dotted?: boolean | undefined;
}

const numberSize = (number: string) => (number.length > 3 ? 12 : number.length > 2 ? 15 : 18);

/** A box with its number, as one tile of a shelf (54 × 52 units). */
export function LiddedBox({ number, growth = "nothing", seen, dotted }: LiddedBoxProps) {
	if (seen)
		return (
			<svg class="b" viewBox="0 0 54 52" preserveAspectRatio="xMidYMax meet" aria-hidden="true">
				<path class="ks wash" d="M4 5H50V22H4ZM6.6 22L8.6 49H45.4L47.4 22" />
				<text
					x="27"
					y="19"
					text-anchor="middle"
					font-size={numberSize(number) - 1}
					font-weight="800"
				>
					{number}
				</text>
				<ChartPictogram name={seen} x={14.5} y={23} size={25} />
			</svg>
		);
	const below = growthPath(growth, 27, 45.5);
	return (
		<svg class="b" viewBox="0 0 54 52" preserveAspectRatio="xMidYMax meet" aria-hidden="true">
			<path
				class="k paper"
				d={boxPath(4, 8, 46, 41)}
				stroke-dasharray={dotted ? "3 4" : undefined}
			/>
			<text
				x="27"
				y={below ? 33.8 : 37.9}
				text-anchor="middle"
				font-size={numberSize(number)}
				font-weight={dotted ? 400 : 700}
			>
				{number}
			</text>
			{below && <path class="k" d={below} />}
		</svg>
	);
}
