/** The rows of a form that say which fern and where, with the way to change each. */
import { Row } from "../../parts/row";
import { say, sayWith } from "../../parts/say";
import { Way } from "../../parts/sheet";
import { FernName, type Naming } from "../../parts/taxon";
import { distanceText } from "../../parts/whereabouts";
import type { Fern } from "../../reckoning/ferns";
import type { Shelves } from "../../records/desk";
import type { Land, Offer } from "./offer";

/** Which fern, and how it looks when it is ripe: the colour belongs to the fern. */
export function FernRow(props: { naming: Naming | null; fern: Fern | null; to: string }) {
	const { naming, fern, to } = props;
	const named = naming?.taxon ? naming : null;
	return (
		<Row
			picture="object-fern"
			main={named ? <FernName naming={named} /> : say("field.cut.unnamed")}
			under={
				fern?.ripeColour
					? sayWith("field.cut.ripe-look", {
							colour: <b class="inline">{fern.ripeColour}</b>,
						})
					: named
						? undefined
						: say("field.cut.unnamed.why")
			}
			right={<Way to={to}>{say(named ? "field.change" : "field.choose")}</Way>}
		/>
	);
}

/** By whose leave; where that is not said, whose land it is. */
export function landText({ owner, permit }: Pick<Land, "owner" | "permit">): string {
	if (permit) return permit;
	return owner && `${owner}; ${say("field.cut.no-permit")}`;
}

interface Spot extends Offer {
	placeWords: string;
}

/** Nearer than this no phone can tell. */
const withinReach = 3;

/** How the plant came to be offered. */
function plantText(records: Shelves, spot: Spot): string {
	if (spot.plant === null) return "";
	const plant = records.labelOf(spot.plant);
	if (spot.why === "near" && (spot.metres ?? 0) < withinReach)
		return say("field.cut.offered.here", { plant });
	if (spot.why === "near" && spot.metres !== null)
		return say("field.cut.offered.near", { plant, distance: distanceText(spot.metres) });
	return spot.why === "today" ? say("field.cut.offered.today", { plant }) : plant;
}

function spotMain(records: Shelves, spot: Spot): string {
	if (spot.placeWords.trim()) return spot.placeWords.trim();
	if (spot.place !== null) return records.labelOf(spot.place);
	if (spot.plant !== null) return records.labelOf(spot.plant);
	return say("field.cut.no-place");
}

/** Which plant at which place; what belongs to the place is carried over and shown. */
export function SpotRow(props: {
	records: Shelves;
	spot: Spot;
	accuracy: number | null;
	to: string;
}) {
	const { records, spot, accuracy, to } = props;
	const nowhere = spot.place === null && spot.plant === null && !spot.placeWords.trim();
	const under = nowhere
		? accuracy === null
			? say("field.cut.no-place.none")
			: say("field.cut.no-place.position", { m: accuracy })
		: [plantText(records, spot), landText(spot)].filter(Boolean).join("; ");
	return (
		<Row
			picture="object-plant"
			main={spotMain(records, spot)}
			under={under}
			right={<Way to={to}>{say(nowhere ? "field.choose" : "field.change")}</Way>}
		/>
	);
}
