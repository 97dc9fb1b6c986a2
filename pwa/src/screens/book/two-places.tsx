/** Two fixes of one thing, drawn to one scale: what is between them, and how far each may be out. */
import { Chart, ChartText } from "../../parts/chart";
import { say } from "../../parts/say";
import { distanceText } from "../../parts/whereabouts";
import { distanceAndBearing, type Position } from "../../reckoning/where";

export interface Fixed extends Position {
	uncertainty_m: number;
	who: string;
}

const middle = { x: 217, y: 96 };
const half = { x: 150, y: 84 };

/** Units of the drawing per metre, so that both rings fit. */
function scaleOf(metres: number, degrees: number, most: number): number {
	const a = (degrees * Math.PI) / 180;
	const wide = (Math.abs(Math.sin(a)) * metres) / 2 + most;
	const high = (Math.abs(Math.cos(a)) * metres) / 2 + most;
	return Math.min(half.x / Math.max(wide, 1), half.y / Math.max(high, 1));
}

export function TwoPlaces({ a, b }: { a: Fixed; b: Fixed }) {
	const { metres, degrees } = distanceAndBearing(a, b);
	const scale = scaleOf(metres, degrees, Math.max(a.uncertainty_m, b.uncertainty_m));
	const angle = (degrees * Math.PI) / 180;
	const x = (Math.sin(angle) * metres * scale) / 2;
	const y = (-Math.cos(angle) * metres * scale) / 2;
	const distance = distanceText(metres);
	const [from, to] = [
		{ x: middle.x - x, y: middle.y - y },
		{ x: middle.x + x, y: middle.y + y },
	];
	return (
		<Chart height={204} label={say("book.question.map", { distance })}>
			<circle class="k ring" cx={from.x} cy={from.y} r={a.uncertainty_m * scale} />
			<circle class="k ring" cx={to.x} cy={to.y} r={b.uncertainty_m * scale} />
			<path class="kh" d={`M${from.x} ${from.y}L${to.x} ${to.y}`} />
			<circle class="ink" cx={from.x} cy={from.y} r="8" />
			<circle class="kh paper" cx={to.x} cy={to.y} r="8" />
			<g class="haloed">
				<ChartText x={middle.x} y={middle.y - 8} anchor="middle" size={19} bold>
					{distance}
				</ChartText>
			</g>
			<ChartText x={from.x - 12} y={from.y - 10} anchor="end" size={19} bold>
				{a.who}
			</ChartText>
			<ChartText x={to.x + 14} y={to.y + 8} size={19} bold>
				{b.who}
			</ChartText>
			<ChartText x={60} y={178} soft>
				{say("book.question.rings")}
			</ChartText>
			<ChartText x={60} y={198} soft>
				{say("book.question.rings.2")}
			</ChartText>
		</Chart>
	);
}
