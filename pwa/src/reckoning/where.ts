/** How far, and which way: from where one stands to a plant. Pure figures, no signal needed. */
import { Geodesic } from "geographiclib-geodesic";

/** A position in 1e-7 degrees, WGS84, as the logbook writes it. */
export interface Position {
	lat_e7: number;
	lon_e7: number;
}

export interface Course {
	/** Along the ellipsoid, in metres. */
	metres: number;
	/** At the start, clockwise from true north: 0 ≤ degrees < 360. */
	degrees: number;
}

const degrees = (e7: number) => e7 / 1e7;

/**
 * Distance and bearing of `to` seen from `from`, by the inverse geodesic problem on WGS84.
 *
 * Source: C. F. F. Karney, "Algorithms for geodesics", Journal of Geodesy 87 (2013) 43–55,
 * doi:10.1007/s00190-012-0578-z; its own code, geographiclib-geodesic. Accurate to nanometres,
 * so the error of the answer is that of the two fixes.
 */
export function distanceAndBearing(from: Position, to: Position): Course {
	const found = Geodesic.WGS84.Inverse(
		degrees(from.lat_e7),
		degrees(from.lon_e7),
		degrees(to.lat_e7),
		degrees(to.lon_e7),
	);
	const bearing = ((found.azi1 ?? 0) + 360) % 360;
	return { metres: found.s12 ?? 0, degrees: bearing };
}

const points = ["n", "ne", "e", "se", "s", "sw", "w", "nw"] as const;
export type CompassPoint = (typeof points)[number];

/** The nearest of the eight points. */
export function compassPoint(bearing: number): CompassPoint {
	return points[Math.round(bearing / 45) % 8] ?? "n";
}

/**
 * A distance as it is told: to a metre below 20 m, to 5 m below 100 m, to 10 m below 1 km,
 * to 100 m below 20 km, then whole kilometres. More would be finer than a phone's fix.
 */
export function toldDistance(metres: number): { n: number; unit: "m" | "km" } {
	if (metres < 19.5) return { n: Math.round(metres), unit: "m" };
	if (metres < 97.5) return { n: Math.round(metres / 5) * 5, unit: "m" };
	if (metres < 995) return { n: Math.round(metres / 10) * 10, unit: "m" };
	if (metres < 19_950) return { n: Math.round(metres / 100) / 10, unit: "km" };
	return { n: Math.round(metres / 1000), unit: "km" };
}

/** Half the angle, in degrees, in which a place `uncertainty` metres round may lie; 180 when one may stand in it. */
export function doubtAngle(metres: number, uncertainty: number): number {
	if (uncertainty >= metres) return 180;
	return (Math.asin(uncertainty / metres) * 180) / Math.PI;
}
