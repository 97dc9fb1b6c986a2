import { Chart, ChartText } from "./chart";
import { say } from "./say";

export interface WaitPictureProps {
	/** Days since sowing. */
	day: number;
	/** Days between which its kind usually turns green; nothing known: no band. */
	usual: readonly [number, number] | null;
	/** Days on which someone looked. */
	looks: readonly number[];
}

/** Day 0 stands on the line of the screen. */
const left = 28;
const right = 374;

/** The wait: days since sowing as a bar, under the band in which its kind usually turns green, with today on it. */
export function WaitPicture({ day, usual, looks }: WaitPictureProps) {
	const end = Math.max(day * 1.25, (usual?.[1] ?? 0) * 1.3, 28);
	const at = (d: number) => left + (d * (right - left)) / end;
	const today = at(day);
	const label = usual
		? say("parts.wait.label", { day, from: usual[0], to: usual[1] })
		: say("parts.wait.label-unknown", { day });
	// A figure too near to today's would be written over it.
	const clear = (d: number) => Math.abs(at(d) - today) > 30;
	return (
		<Chart height={104} label={label}>
			{usual && <Band from={at(usual[0])} to={at(usual[1])} />}
			<path class="ink-fill" d={`M${left} 57H${today}V73H${left}Z`} />
			<path class="k" stroke-dasharray="3 5" d={`M${today} 57H${right - 2}V73H${today}`} />
			{looks.map((look) => (
				<circle key={look} class="k paper" cx={at(look)} cy={65} r={5} />
			))}
			<path class="kh" d={`M${today} 8V80`} />
			<ChartText
				x={today > 290 ? today - 8 : today + 8}
				y={20}
				anchor={today > 290 ? "end" : "start"}
				size={19}
				bold
			>
				{say("parts.wait.today")}
			</ChartText>
			<ChartText x={Math.max(today, left + 8)} y={99} anchor="middle" size={19} bold>
				{day}
			</ChartText>
			{today > 110 && (
				<ChartText x={left + 6} y={95}>
					{say("parts.wait.sown")}
				</ChartText>
			)}
			{usual?.map(
				(d) =>
					clear(d) && (
						<ChartText key={d} x={at(d)} y={95} anchor="middle">
							{d}
						</ChartText>
					),
			)}
		</Chart>
	);
}

/** A window is hatched slantwise between its two days; it fades out by its own ends, being no limit. */
function Band({ from, to }: { from: number; to: number }) {
	return (
		<>
			<path class="band" d={`M${from} 56V32H${to}V56Z`} />
			<path class="window" d={`M${from} 56V32H${to}V56Z`} />
		</>
	);
}
