/** The year from month to month: on which days it was seen ripe or cut in past years, and where today stands. */
import { Chart, ChartText } from "../../parts/chart";
import { say } from "../../parts/say";

const left = 60;
const right = 374;
const axis = 30;

/** Days before each month, in a year of 365. */
const before = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334] as const;
const dayOfYear = (day: string) =>
	(before[Number(day.slice(5, 7)) - 1] ?? 0) + Number(day.slice(8, 10));
const at = (n: number) => left + ((n - 1) * (right - left)) / 365;

export function YearPicture({ ripe, today }: { ripe: readonly string[]; today: string }) {
	const now = at(dayOfYear(today));
	const days = ripe.map(dayOfYear);
	const from = at(Math.min(...days));
	const to = at(Math.max(...days));
	const years = new Set(ripe.map((day) => day.slice(0, 4))).size;
	return (
		<Chart height={64} label={say("field.plant.picture")}>
			<path class="k" d={`M${left} ${axis}H${right}`} />
			{before.map((n, month) => (
				<g key={n}>
					<path class="ax" d={`M${at(n + 1)} ${axis}v8`} />
					<ChartText x={at(n + 15)} y={56} anchor="middle" soft>
						{say(`field.month.${month + 1}` as "field.month.1")}
					</ChartText>
				</g>
			))}
			{years > 1 && to - from > 2 && (
				<rect class="window" x={from} y={12} width={to - from} height={18} />
			)}
			{days.map((n) => (
				<path key={n} class="diamond" d={`M${at(n)} 16l5 5l-5 5l-5 -5z`} />
			))}
			<path class="kh" d={`M${now} 6V36`} />
			<ChartText x={now + (now > 300 ? -7 : 7)} y={10} anchor={now > 300 ? "end" : "start"}>
				{say("field.plant.today")}
			</ChartText>
		</Chart>
	);
}
