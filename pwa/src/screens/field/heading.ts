/** Which way the phone points, where the phone tells: the dial then turns with it, at most four times a second. */
import { useEffect, useState } from "preact/hooks";

interface CompassEvent extends DeviceOrientationEvent {
	/** Only on iPhones: degrees clockwise from north. */
	webkitCompassHeading?: number;
}
type AskingEvent = typeof DeviceOrientationEvent & {
	requestPermission?: () => Promise<"granted" | "denied">;
};

const jump = 15;
const quarterSecond = 250;

/** Degrees clockwise from north; null where the sensor does not know north. */
export function headingOf(event: CompassEvent): number | null {
	if (typeof event.webkitCompassHeading === "number") return event.webkitCompassHeading;
	if (!event.absolute || event.alpha === null) return null;
	return (360 - event.alpha) % 360;
}

const still = () => matchMedia("(prefers-reduced-motion: reduce)").matches;

/** iPhones ask the person first, and only from a tap. */
export const mustAskForHeading = (): boolean =>
	typeof DeviceOrientationEvent !== "undefined" &&
	typeof (DeviceOrientationEvent as AskingEvent).requestPermission === "function";

export async function askForHeading(): Promise<boolean> {
	const answer = await (DeviceOrientationEvent as AskingEvent).requestPermission?.();
	return answer === "granted";
}

/** The heading, or null while the phone has not told one. `allowed` changes when an iPhone has been asked. */
export function useHeading(allowed: boolean): number | null {
	const [heading, turn] = useState<number | null>(null);
	useEffect(() => {
		let last = Number.NEGATIVE_INFINITY;
		const follow = (event: Event) => {
			const found = headingOf(event as CompassEvent);
			if (found === null || event.timeStamp - last < quarterSecond) return;
			last = event.timeStamp;
			turn(still() ? (Math.round(found / jump) * jump) % 360 : Math.round(found));
		};
		if (!allowed) return;
		addEventListener("deviceorientationabsolute", follow);
		addEventListener("deviceorientation", follow);
		return () => {
			removeEventListener("deviceorientationabsolute", follow);
			removeEventListener("deviceorientation", follow);
		};
	}, [allowed]);
	return heading;
}
