import { pictureOf } from "../../parts/answering";
import { dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Pictogram } from "../../parts/pictogram";
import { Link } from "../../parts/route";
import { say } from "../../parts/say";
import { fernsIn } from "../../parts/standing";
import { Tag } from "../../parts/tag";
import { FernName } from "../../parts/taxon";
import type { BenchBox } from "./bench-list";
import { askedOf } from "./box-state";

/** When it is looked at next: bold when it wants an answer now. */
function Next({ box }: { box: string }) {
	const desk = useDesk();
	const today = desk.today.value;
	const { now, next } = askedOf(desk.allTasks.value, box, today);
	if (now) return <b>{say("bench.row.now")}</b>;
	if (!next) return null;
	if (next.rule === "round") return <>{say("bench.row.round")}</>;
	return <>{say("bench.row.look", { day: dayShort(next.due, today) })}</>;
}

export function BoxRow({ box }: { box: BenchBox }) {
	const desk = useDesk();
	const records = desk.records.value;
	const [trouble] = box.troubles;
	const ferns = fernsIn(records, box.record.id);
	const [fern] = ferns;
	const growth = say(`parts.growth.${box.growth ?? "unseen"}`);
	const words = trouble
		? say("bench.row.trouble", {
				trouble: say(`parts.trouble.${trouble.trouble}`),
				day: dayShort(trouble.since.slice(0, 10), desk.today.value),
			})
		: growth;
	return (
		<Link class="row" to={`/bench/box/${box.record.id}`}>
			<Pictogram name={pictureOf(trouble?.trouble ?? box.growth ?? "nothing") ?? "object-box"} />
			<span class="w">
				<span class="named">
					<Tag kind="box" text={box.number} />
					{ferns.length > 1 ? (
						say("bench.box.two")
					) : fern?.control ? (
						say("parts.control")
					) : (
						<FernName naming={fern?.naming ?? records.nameOf(box.record.id)} />
					)}
				</span>
				<small class="below">{words}</small>
			</span>
			<span class="r">
				<Next box={box.record.id} />
			</span>
		</Link>
	);
}
