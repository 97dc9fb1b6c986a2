/** Scenes of the gallery for the field: /field?scene=wood. Invented data. */
import type { FakeDesk } from "../gallery/fake-desk";
import { atLady, onTheWay, woodDesk } from "./wood";

const offline = { link: "offline", unsent: 3, oldestUnsentMs: 7_500_000 } as const;

export const fieldScenes: Readonly<Record<string, () => FakeDesk>> = {
	wood: () => woodDesk({ safety: offline }, atLady),
	way: () => woodDesk({ safety: offline }, onTheWay),
	nowhere: () => woodDesk({ safety: offline }),
	first: () => woodDesk({ records: [] }, atLady),
	unclaimed: () => woodDesk({ state: "unclaimed", me: null, records: [] }),
};
