/** Where a plant, place or collection is, as far as this person may know, and how far that is from here. */

import {
	type CompassPoint,
	compassPoint,
	distanceAndBearing,
	toldDistance,
} from "../reckoning/where";
import type { Fix, FoldedRecord, Shelves } from "../records/desk";
import { say } from "./say";

export interface Whereabouts {
	lat_e7: number;
	lon_e7: number;
	uncertainty_m: number;
	/** Only the rounded place was told to this person. */
	rounded: boolean;
}

const number = (value: unknown): number | null => (typeof value === "number" ? value : null);

function fixedOf(record: FoldedRecord | undefined): Whereabouts | null {
	const fixed = record?.fields["place.fixed"];
	const told = record?.fields["place.told"];
	const fields = fixed ?? told ?? {};
	const lat_e7 = number(fields.lat_e7);
	const lon_e7 = number(fields.lon_e7);
	if (lat_e7 === null || lon_e7 === null) return null;
	return { lat_e7, lon_e7, uncertainty_m: number(fields.uncertainty_m) ?? 100, rounded: !fixed };
}

const idIn = (record: FoldedRecord, kind: string, field: string): string | null => {
	const value = record.fields[kind]?.[field];
	return typeof value === "string" ? value : null;
};

/** The place at which a plant stands or a collection was cut. */
export function placeOf(records: Shelves, record: FoldedRecord): FoldedRecord | undefined {
	const id = idIn(record, `${record.type}.described`, "place");
	return id === null ? undefined : records.get(id);
}

/** A record's own position, else its plant's, else its place's. */
export function whereaboutsOf(records: Shelves, record: FoldedRecord): Whereabouts | null {
	const plant = idIn(record, "gathering.described", "plant");
	return (
		fixedOf(record) ??
		(plant === null ? null : fixedOf(records.get(plant))) ??
		fixedOf(placeOf(records, record))
	);
}

export interface Away {
	metres: number;
	degrees: number;
	point: CompassPoint;
	/** How far both positions may be out together. */
	doubt: number;
}

export function awayFrom(fix: Fix, there: Whereabouts): Away {
	const { metres, degrees } = distanceAndBearing(fix, there);
	return {
		metres,
		degrees,
		point: compassPoint(degrees),
		doubt: fix.uncertainty_m + there.uncertainty_m,
	};
}

/** "340 m", "2.4 km". */
export function distanceText(metres: number): string {
	const { n, unit } = toldDistance(metres);
	return say(`field.distance.${unit}`, { n });
}

/** "340 m NE". */
export const awayText = ({ metres, point }: Away): string =>
	say("field.distance.far", { distance: distanceText(metres), point: say(`field.point.${point}`) });
