/** Field: what is known around here, and the three things one does: cut, log a plant, note a packet that came. */
import { useEffect, useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { dayOf, dayShort, timeOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Empty } from "../../parts/empty";
import { Page } from "../../parts/page";
import { Gap, Group, Node, Row } from "../../parts/row";
import { say } from "../../parts/say";
import { Foot, Way } from "../../parts/sheet";
import { switchSun, theme } from "../../parts/theme";
import { Tile, Tiles } from "../../parts/tiles";
import { distanceText } from "../../parts/whereabouts";
import { InstallOffer } from "../begin/install-offer";
import { beginning, cutKey } from "./cut-form";
import "./field.css";
import { useHere } from "./field-when";
import { isAt, type NearPlant, plantsAround } from "./offer";
import { PlantRow } from "./plant-row";

const shownAtFirst = 5;

function Known({ around, near }: { around: NearPlant[]; near: boolean }) {
	const [all, showAll] = useState(false);
	if (!around.length)
		return (
			<Empty picture="object-plant" words={say("field.empty")} under={say("field.empty.under")} />
		);
	const shown = all ? around : around.slice(0, shownAtFirst);
	return (
		<>
			<Group word={say(near ? "field.plants.near" : "field.plants.recent")} />
			{shown.map((one) => (
				<PlantRow key={one.plant.id} near={one} />
			))}
			{around.length > shown.length && (
				<div class="pad">
					<Way onPress={() => showAll(true)}>{say("field.plants.all", { n: around.length })}</Way>
				</div>
			)}
		</>
	);
}

/** Why there is no position, where it matters, and that nothing waits for it. */
function Position() {
	const { state, fix } = useDesk().position.value;
	if (fix) return null;
	if (state === "refused")
		return (
			<Row
				picture="store-phone"
				main={say("field.position.refused")}
				under={say("field.position.refused.do")}
			/>
		);
	if (state === "unavailable") return <Node>{say("field.position.unavailable")}</Node>;
	return null;
}

/** When an unfinished cut was begun, if one waits in its form. */
function useUnfinished(): string | null {
	const desk = useDesk();
	const [begun, found] = useState<string | null>(null);
	useEffect(() => {
		desk.draft.load(cutKey).then((left) => found(beginning(left)));
	}, [desk]);
	return begun;
}

function Doings() {
	const desk = useDesk();
	const begun = useUnfinished();
	const today = desk.today.value;
	const when = begun && `${dayShort(dayOf(begun), today)}, ${timeOf(begun)}`;
	return (
		<>
			<Answers>
				<Answer
					main
					picture="object-collection"
					word={say("field.cut")}
					then={
						when
							? say("field.cut.left", { when })
							: say("field.cut.then", { number: desk.verbs.nextNumber("mine") })
					}
					to="/field/cut"
				/>
			</Answers>
			<Gap />
			<Tiles>
				<Tile picture="object-plant" word={say("field.log")} to="/field/plant" />
				<Tile picture="object-received" word={say("field.received")} to="/field/received" />
				<Tile picture="object-lens" word={say("field.find")} to="/book?type=plant" />
			</Tiles>
			<Foot>
				<Way onPress={switchSun}>
					{say(theme() === "sun" ? "parts.theme.sun-off" : "parts.theme.sun-on")}
				</Way>
			</Foot>
		</>
	);
}

export default function Field() {
	const desk = useDesk();
	const { fix, when } = useHere();
	const records = desk.records.value;
	const around = plantsAround(records, fix);
	const [nearest] = around;
	const label = nearest ? records.labelOf(nearest.plant.id) : "";
	const title = !nearest
		? say("field.title.none")
		: !nearest.away
			? say("field.title.known", { n: around.length })
			: isAt(nearest.away)
				? say("field.title.near", { label })
				: say("field.title.nearest", { label, distance: distanceText(nearest.away.metres) });
	return (
		<Page place="field" when={when} title={title} sheet={<Doings />}>
			<InstallOffer />
			<Position />
			<Known around={around} near={nearest?.away !== null && nearest !== undefined} />
		</Page>
	);
}
