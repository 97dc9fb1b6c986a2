/** Which plant, which place; whose land it is and by whose leave. */
import { Answer, Answers } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import { Page } from "../../parts/page";
import { back } from "../../parts/route";
import { Group, Row, Small } from "../../parts/row";
import { say } from "../../parts/say";
import { FernName } from "../../parts/taxon";
import { awayFrom, awayText, placeOf, whereaboutsOf } from "../../parts/whereabouts";
import { Write } from "../../parts/write";
import type { Fix, FoldedRecord, Shelves } from "../../records/desk";
import { landText } from "./fern-line";
import { type Land, landOf, noLand, type Offer, plantsAround } from "./offer";

export interface Spot extends Offer {
	placeWords: string;
}

/** A plant that was chosen: its place and what belongs to it come along. */
export function atPlant(records: Shelves, plant: FoldedRecord): Spot {
	const place = placeOf(records, plant)?.id ?? null;
	return {
		why: "asked",
		metres: null,
		plant: plant.id,
		place,
		placeWords: "",
		...landOf(records, place),
	};
}

export function atPlace(records: Shelves, place: string): Spot {
	return {
		why: "asked",
		metres: null,
		plant: null,
		place,
		placeWords: "",
		...landOf(records, place),
	};
}

export const nowhere: Spot = {
	why: "none",
	metres: null,
	plant: null,
	place: null,
	placeWords: "",
	...noLand,
};

/** Places, the nearest first where that is known, then as they are called. */
function placesAround(records: Shelves, fix: Fix | null) {
	const far = (place: FoldedRecord) => {
		const there = fix && whereaboutsOf(records, place);
		return fix && there ? awayFrom(fix, there) : null;
	};
	return records
		.ofType("place")
		.map((place) => ({ place, away: far(place) }))
		.sort((a, b) => (a.away?.metres ?? 1e9) - (b.away?.metres ?? 1e9));
}

function Known(props: { take: (spot: Spot) => void; plants: boolean }) {
	const desk = useDesk();
	const records = desk.records.value;
	const { fix } = desk.position.value;
	const plants = props.plants ? plantsAround(records, fix).slice(0, 8) : [];
	const places = placesAround(records, fix);
	return (
		<>
			{plants.length > 0 && <Group word={say("field.place.plants")} />}
			{plants.map(({ plant, away }) => (
				<Row
					key={plant.id}
					picture="object-plant"
					main={records.labelOf(plant.id)}
					under={<FernName naming={records.nameOf(plant.id)} />}
					right={away ? awayText(away) : undefined}
					onPress={() => props.take(atPlant(records, plant))}
				/>
			))}
			{places.length > 0 && <Group word={say("field.place.places")} />}
			{places.map(({ place, away }) => (
				<Row
					key={place.id}
					picture="grown-wild"
					main={records.labelOf(place.id)}
					under={landText(landOf(records, place.id)) || undefined}
					right={away ? awayText(away) : undefined}
					onPress={() => props.take(atPlace(records, place.id))}
				/>
			))}
		</>
	);
}

/** Whose land and whose leave; a log of a plant has none of it. */
function LandFields({ land, set }: { land: Land; set: (patch: Partial<Land>) => void }) {
	return (
		<>
			<Write
				label={say("field.place.owner")}
				value={land.owner}
				onChange={(owner) => set({ owner })}
			/>
			<Write
				label={say("field.place.permit")}
				hint={say("field.place.permit.hint")}
				value={land.permit}
				onChange={(permit) => set({ permit })}
			/>
			<Write
				label={say("field.place.allows")}
				hint={say("field.place.allows.hint")}
				value={land.allows}
				onChange={(allows) => set({ allows })}
			/>
			<Small>{say("field.place.carried")}</Small>
		</>
	);
}

export function ChoosePlace(props: {
	spot: Spot;
	set: (patch: Partial<Spot>) => void;
	otherwise: string;
	/** A cut may be from a plant and is on somebody's land; a plant only has a place. */
	forCut: boolean;
}) {
	const { spot, set, otherwise, forCut } = props;
	const leave = () => back(otherwise);
	const take = (chosen: Spot) => {
		set(chosen);
		leave();
	};
	const written = spot.placeWords.trim() !== "";
	return (
		<Page
			place="field"
			when={say("field.place.when")}
			title={say("field.place.title")}
			sheet={
				<>
					<Write
						label={say("field.place.write")}
						hint={say("field.place.hint")}
						value={spot.placeWords}
						onChange={(placeWords) => set({ ...nowhere, placeWords })}
					/>
					<Answers>
						{written || spot.place !== null ? (
							<Answer picture="do-yes" word={say("field.place.done")} onPress={leave} />
						) : null}
						<Answer
							picture="ripeness-cant-tell"
							word={say("field.place.none")}
							then={say("field.place.none.then")}
							onPress={() => take(nowhere)}
						/>
					</Answers>
				</>
			}
		>
			<Known take={take} plants={forCut} />
			{forCut && <LandFields land={spot} set={set} />}
		</Page>
	);
}
