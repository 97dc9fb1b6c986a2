import { expect, test } from "vitest";
import {
	compassPoint,
	distanceAndBearing,
	doubtAngle,
	toldDistance,
} from "../../../pwa/src/reckoning/where";

const at = (lat: number, lon: number) => ({
	lat_e7: Math.round(lat * 1e7),
	lon_e7: Math.round(lon * 1e7),
});

test("Wellington to Salamanca is as in the documentation of GeographicLib", () => {
	const course = distanceAndBearing(at(-41.32, 174.81), at(40.96, -5.5));
	expect(course.metres).toBeCloseTo(19959679.267, 2);
	expect(course.degrees).toBeCloseTo(161.06767, 4);
});

test("a degree along the equator is a 360th of the equator of WGS84", () => {
	const east = distanceAndBearing(at(0, 0), at(0, 1));
	expect(east.metres).toBeCloseTo((6378137 * 2 * Math.PI) / 360, 6);
	expect(east.degrees).toBeCloseTo(90, 9);
	expect(distanceAndBearing(at(0, 1), at(0, 0)).degrees).toBeCloseTo(270, 9);
});

test("across the date line it goes the short way", () => {
	const course = distanceAndBearing(at(0, 179.9999), at(0, -179.9999));
	expect(course.metres).toBeLessThan(25);
	expect(course.degrees).toBeCloseTo(90, 6);
});

test.each([
	[0, "n"],
	[22, "n"],
	[23, "ne"],
	[52, "ne"],
	[337, "nw"],
	[338, "n"],
	[359.9, "n"],
])("%d degrees is %s", (bearing, point) => {
	expect(compassPoint(bearing)).toBe(point);
});

test.each([
	[7.4, 7, "m"],
	[19.6, 20, "m"],
	[43, 45, "m"],
	[97.6, 100, "m"],
	[338, 340, "m"],
	[994, 990, "m"],
	[996, 1, "km"],
	[2440, 2.4, "km"],
	[19_960, 20, "km"],
])("%d m is told as %d %s", (metres, n, unit) => {
	expect(toldDistance(metres)).toEqual({ n, unit });
});

test("the doubt about the way widens as one comes near, and is all round inside it", () => {
	expect(doubtAngle(1000, 10)).toBeCloseTo(0.573, 3);
	expect(doubtAngle(20, 10)).toBeCloseTo(30, 9);
	expect(doubtAngle(10, 10)).toBe(180);
	expect(doubtAngle(3, 10)).toBe(180);
});
