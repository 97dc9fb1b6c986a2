import { toDay } from "../../kernel/days";
import { Chart, ChartText } from "../../parts/chart";
import { dayLong, dayOf, dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Row, Say } from "../../parts/row";
import { say } from "../../parts/say";

/** After more than two months without a look: nothing has piled up, and it is said. */
const longAfter = 60;

export function LongAway({ walked }: { walked: string | null }) {
	const today = useDesk().today.value;
	if (!walked || toDay(today) - toDay(dayOf(walked)) < longAfter) return null;
	const last = dayOf(walked);
	const from = dayShort(last, today);
	const to = dayShort(today, today);
	return (
		<>
			<Say>
				{say("today.long.last", { day: dayLong(last, today) })}{" "}
				<b>{say("today.long.nothing-late")}</b> {say("today.long.rest", { from, to })}
			</Say>
			<Chart height={92} label={say("today.long.label", { from, to })}>
				<path class="kh" d="M60 62H116" />
				<path class="window" d="M116 46H341V62H116Z" />
				<path class="k" d="M341 62H374" />
				<circle class="k paper" cx="116" cy="62" r="4" />
				<path class="kh" d="M341 26V72" />
				<ChartText x={341} y={18} anchor="middle" size={19} bold>
					{say("today.long.today")}
				</ChartText>
				<ChartText x={116} y={36} anchor="middle">
					{from}
				</ChartText>
				<ChartText x={228} y={36} anchor="middle" soft>
					{say("today.long.not-looked")}
				</ChartText>
			</Chart>
			<Row picture="trouble-dry" main={say("today.long.dry")} under={say("today.long.dry-under")} />
			<Row
				picture="growth-winter-rest"
				main={say("today.long.winter")}
				under={say("today.long.winter-under")}
			/>
			<Row
				picture="object-clump"
				main={say("today.long.fronds")}
				under={say("today.long.fronds-under")}
			/>
		</>
	);
}
