/** The coming weeks on one axis: each question from the day on which it is asked to the day on which it lapses. */
import { toDay } from "../../kernel/days";
import { Chart, ChartText } from "../../parts/chart";
import { letterOf } from "../../parts/counting";
import { say } from "../../parts/say";
import type { Task } from "../../records/desk";

const left = 28;
const right = 374;
const lane = 24;
const week = 7;

/** As many weeks as the last window needs, at least four, at most twelve. */
function weeksOf(tasks: readonly Task[], today: number): number {
	const last = Math.max(...tasks.map(({ due }) => toDay(due)));
	return Math.min(12, Math.max(4, Math.ceil((last - today) / week) + 2));
}

export function WeeksPicture({ tasks, today }: { tasks: readonly Task[]; today: string }) {
	const now = toDay(today);
	const weeks = weeksOf(tasks, now);
	const x = (day: number) =>
		left + Math.min(1, Math.max(0, (day - now) / (weeks * week))) * (right - left);
	const floor = 30 + tasks.length * lane;
	return (
		<Chart height={floor + 12} label={say("ahead.picture")}>
			<ChartText x={left + 12} y={16} bold>
				{say("ahead.picture.today")}
			</ChartText>
			{Array.from({ length: weeks }, (_, i) => i + 1).map((n) => (
				<path key={n} class="ax" d={`M${x(now + n * week)} ${floor}v6`} />
			))}
			<path class="k" d={`M${left} ${floor}H${right}`} />
			{tasks.map(({ id, due, until }, i) => {
				const from = x(toDay(due));
				const to = Math.max(from + 10, until ? x(toDay(until)) : right);
				const y = 26 + i * lane;
				return (
					<g key={id}>
						<rect class="window" x={from} y={y} width={to - from} height={16} />
						<ChartText x={from - 8} y={y + 14} anchor="end" size={20} bold italic>
							{letterOf(i)}
						</ChartText>
					</g>
				);
			})}
			<path class="kh" d={`M${left} 6V${floor + 6}`} />
		</Chart>
	);
}
