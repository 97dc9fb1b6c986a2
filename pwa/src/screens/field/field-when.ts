/** Where the phone is, as the line above a field screen's title says it. */
import { useEffect } from "preact/hooks";
import { useDesk } from "../../parts/desk";
import { say } from "../../parts/say";
import type { Fix } from "../../records/desk";

/** Watch the position while this screen is open. */
export function useHere(): { fix: Fix | null; when: string } {
	const desk = useDesk();
	useEffect(() => desk.watchPosition(), [desk]);
	const { state, fix } = desk.position.value;
	const field = say(desk.safety.value.link === "offline" ? "field.when.signalless" : "field.when");
	if (fix) return { fix, when: say("field.when.here", { field, m: fix.uncertainty_m }) };
	const key = state === "waiting" ? "field.when.coming" : "field.when.off";
	return { fix, when: say(key, { field }) };
}
