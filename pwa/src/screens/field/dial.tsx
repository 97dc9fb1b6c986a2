/** The dial: how far, and which way, as a frond that points there. */
import { Chart, ChartText } from "../../parts/chart";
import { say } from "../../parts/say";
import { type Away, distanceText } from "../../parts/whereabouts";
import { doubtAngle, toldDistance } from "../../reckoning/where";

const centre = { x: 208, y: 166 };
const radius = 132;

/** The point at an angle (degrees clockwise from the top) and a distance from the centre. */
function on(angle: number, r: number): [number, number] {
	const a = (angle * Math.PI) / 180;
	return [centre.x + r * Math.sin(a), centre.y - r * Math.cos(a)];
}
const xy = (angle: number, r: number) =>
	on(angle, r)
		.map((c) => c.toFixed(1))
		.join(" ");

function Ticks({ turn }: { turn: number }) {
	const angles = Array.from({ length: 24 }, (_, i) => i * 15);
	return (
		<>
			{angles.map((angle) => {
				const main = angle % 90 === 0;
				return (
					<path
						key={angle}
						class={main ? "kh" : "k"}
						d={`M${xy(angle - turn, radius)}L${xy(angle - turn, radius - (main ? 14 : 7))}`}
					/>
				);
			})}
		</>
	);
}

const letters = [
	[0, "n"],
	[90, "e"],
	[180, "s"],
	[270, "w"],
] as const;

/** A frond from the middle outward: a stalk with pinnae, longest a third of the way up. */
function frondPath(angle: number): string {
	const pinna = (k: number, side: number) => {
		const f = k / 10;
		const from = 58 + 62 * f;
		const long = 3.5 + 19 * Math.sin(Math.PI * Math.min(1, 0.22 + f * 0.78)) ** 0.9;
		const out = (r: number, across: number) => {
			const lean = (Math.atan2(across, r) * 180) / Math.PI;
			return xy(angle + lean, Math.hypot(r, across));
		};
		return `M${out(from, 0)}Q${out(from + 1, side * long * 0.6)} ${out(from + 7, side * long)}`;
	};
	const pinnae = Array.from({ length: 11 }, (_, k) => pinna(k, 1) + pinna(k, -1));
	return `M${xy(angle, 48)}L${xy(angle, 126)}${pinnae.join("")}`;
}

/** Where the plant may lie, as seen from here: an arc outside the ring. */
function doubtPath(angle: number, half: number): string {
	const r = radius + 8;
	const wide = Math.min(half, 179);
	return `M${xy(angle - wide, r)}A${r} ${r} 0 ${wide > 90 ? 1 : 0} 1 ${xy(angle + wide, r)}`;
}

/** `turn`: the phone's heading, degrees clockwise from north; 0 puts north at the top. */
export function Dial({ away, turn }: { away: Away; turn: number }) {
	const angle = away.degrees - turn;
	const { n, unit } = toldDistance(away.metres);
	return (
		<Chart
			height={312}
			label={say("field.plant.dial", {
				distance: distanceText(away.metres),
				point: say(`field.point.long.${away.point}`),
			})}
		>
			<circle class="k" cx={centre.x} cy={centre.y} r={radius} />
			<Ticks turn={turn} />
			{letters.map(([at, letter]) => {
				const [x, y] = on(at - turn, radius - 29);
				return (
					<ChartText key={letter} x={x} y={y + 7} anchor="middle" size={22} bold>
						{say(`field.point.${letter}`)}
					</ChartText>
				);
			})}
			<path class="frond" d={frondPath(angle)} />
			<path class="doubt" d={doubtPath(angle, doubtAngle(away.metres, away.doubt))} />
			<path class="k ink" d={`M${centre.x} ${centre.y - radius - 3}l-8 -15h16z`} />
			<text x={centre.x} y={centre.y + 12} text-anchor="middle" font-size="58" font-weight="800">
				{n}
			</text>
			<ChartText x={centre.x} y={centre.y + 34} anchor="middle" size={19}>
				{say(unit === "m" ? "field.plant.dial.metres" : "field.plant.dial.km")}
			</ChartText>
		</Chart>
	);
}
