/** What is offered before anything is asked: the plant one stands at, its place, and what belongs to that place. */
import { dayOf } from "../../parts/dates";
import { type Away, awayFrom, placeOf, whereaboutsOf } from "../../parts/whereabouts";
import type { Fix, FoldedRecord, Grown, Id, Shelves } from "../../records/desk";

export interface NearPlant {
	plant: FoldedRecord;
	/** null: its place or the phone's is not known. */
	away: Away | null;
}

/** The moment of the last note of a record. */
export const lastAt = (record: FoldedRecord): string =>
	Object.values(record.last)
		.map(({ at }) => at)
		.sort()
		.at(-1) ?? "";

const byLast = (a: FoldedRecord, b: FoldedRecord) =>
	lastAt(a) < lastAt(b) ? 1 : lastAt(a) > lastAt(b) ? -1 : 0;

/** Plants by distance where that is known, then by their last note. */
export function plantsAround(records: Shelves, fix: Fix | null): NearPlant[] {
	const known = [...records.ofType("plant")].sort(byLast).map((plant) => {
		const there = fix && whereaboutsOf(records, plant);
		return { plant, away: fix && there ? awayFrom(fix, there) : null };
	});
	const far = (near: NearPlant) => near.away?.metres ?? Number.POSITIVE_INFINITY;
	return known.sort((a, b) => (far(a) === far(b) ? 0 : far(a) - far(b)));
}

/** One stands at a plant when it is no further than both positions may be out, and a few steps. */
const steps = 10;
const most = 60;
export const isAt = (away: Away): boolean => away.metres <= Math.min(most, away.doubt + steps);

/** What belongs to the land, carried over and shown. */
export interface Land {
	grown: Grown | null;
	owner: string;
	permit: string;
	allows: string;
}
export const noLand: Land = { grown: null, owner: "", permit: "", allows: "" };

const text = (value: unknown) => (typeof value === "string" ? value : "");
const grownIn = (value: unknown): Grown | null =>
	value === "wild" || value === "garden" ? value : null;

function landIn(fields: FoldedRecord["fields"][string] | undefined): Land {
	return {
		grown: grownIn(fields?.grown),
		owner: text(fields?.owner),
		permit: text(fields?.permit),
		allows: text(fields?.allows),
	};
}

/** Collections, the last first. */
export const lastCuts = (records: Shelves): FoldedRecord[] =>
	[...records.ofType("gathering")].sort(byLast);

/** The land of a place as described there, gaps filled from the last cut at it. */
export function landOf(records: Shelves, place: Id | null): Land {
	if (place === null) return noLand;
	const own = landIn(records.get(place)?.fields["place.described"]);
	const cut = lastCuts(records).find((one) => one.fields["gathering.described"]?.place === place);
	const last = landIn(cut?.fields["gathering.described"]);
	return {
		grown: own.grown ?? last.grown,
		owner: own.owner || last.owner,
		permit: own.permit || last.permit,
		allows: own.allows || last.allows,
	};
}

export interface Offer extends Land {
	why: "asked" | "near" | "today" | "none";
	plant: Id | null;
	place: Id | null;
	metres: number | null;
}

/**
 * Which plant the cut is from, unless the person says otherwise: the one asked for, the one that the phone stands at,
 * or the one that was noted last today. A plant of another day or place is never taken for granted.
 */
export function offerFor(
	records: Shelves,
	fix: Fix | null,
	today: string,
	asked: Id | null,
): Offer {
	const found = chosenPlant(records, fix, today, asked);
	const place = found.plant ? (placeOf(records, found.plant)?.id ?? null) : null;
	return {
		why: found.why,
		metres: found.metres,
		plant: found.plant?.id ?? null,
		place,
		...landOf(records, place),
	};
}

function chosenPlant(records: Shelves, fix: Fix | null, today: string, asked: Id | null) {
	const wanted = asked === null ? undefined : records.get(asked);
	if (wanted) return { plant: wanted, why: "asked" as const, metres: null };
	const around = plantsAround(records, fix);
	const [nearest] = around;
	if (nearest?.away && isAt(nearest.away))
		return { plant: nearest.plant, why: "near" as const, metres: nearest.away.metres };
	// With a position, a plant that is known to be elsewhere is not the one.
	const recent = around.filter(({ away }) => away === null).map(({ plant }) => plant);
	const plant = recent.sort(byLast).find((one) => dayOf(lastAt(one)) === today);
	return plant
		? { plant, why: "today" as const, metres: null }
		: { plant: null, why: "none" as const, metres: null };
}
