/** A known plant as a row: how ripe it was last, its name, how far. */
import { dayOf, dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Row } from "../../parts/row";
import { say } from "../../parts/say";
import { FernName } from "../../parts/taxon";
import { awayText } from "../../parts/whereabouts";
import { fernOf } from "../../reckoning/ferns";
import type { FoldedRecord, Ripeness } from "../../records/desk";
import { isAt, type NearPlant } from "./offer";
import { isRipeness, ripenessPicture } from "./ripeness";

export interface SeenRipeness {
	ripeness: Ripeness;
	at: string;
}

/** What was last seen of its sori; null: nobody has looked. */
export function lastRipeness(plant: FoldedRecord): SeenRipeness | null {
	const state = plant.states.ripeness;
	return state && isRipeness(state.value) ? { ripeness: state.value, at: state.at } : null;
}

export function PlantRow({ near }: { near: NearPlant }) {
	const desk = useDesk();
	const { plant, away } = near;
	const naming = desk.records.value.nameOf(plant.id);
	const seen = lastRipeness(plant);
	const sorus = naming?.taxon ? (fernOf(naming.taxon)?.sorus ?? null) : null;
	const picture = (seen && ripenessPicture(seen.ripeness, sorus)) ?? "object-plant";
	const sori = seen
		? say("field.plant.seen", {
				ripeness: say(`field.seen.${seen.ripeness}`),
				day: dayShort(dayOf(seen.at), desk.today.value),
			})
		: say("field.plant.unseen");
	return (
		<Row
			picture={picture}
			main={<FernName naming={naming} />}
			under={`${desk.records.value.labelOf(plant.id)}: ${sori}`}
			right={away && (isAt(away) ? say("field.distance.here") : awayText(away))}
			to={`/field/plant/${plant.id}`}
		/>
	);
}
