import { weekdayOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Node } from "../../parts/row";
import { say } from "../../parts/say";
import { Way } from "../../parts/sheet";

/** In the demo the calendar can be moved on, so that a year passes in an afternoon. */
export function Demo() {
	const desk = useDesk();
	const demo = desk.demo.value;
	if (!demo) return null;
	return (
		<Node>
			{say("today.demo", { day: weekdayOf(demo.today) })}{" "}
			<Way onPress={() => void desk.server.moveClock("next")}>{say("today.demo-next")}</Way>
		</Node>
	);
}
