// A desk for a browser that keeps nothing: it says so, and takes nothing in that would be lost.

import { signal } from "@preact/signals";
import type { Desk, Safety, Verbs } from "../records/desk";
import { RecordIndex } from "../records/shelves";

const NOTHING: Safety = {
	...{ unsent: 0, unsentPhotos: 0, oldestUnsentMs: null, onServer: 0, backedUp: 0 },
	...{ photosHere: 0, checking: 0, refused: 0, held: 0, persisted: false, clockOffMs: null },
	...{ link: "offline", exchanging: false, lastExchangeMs: null, storageFull: false },
	...{ otherTabNewer: false, updateReady: false },
};

export function blockedDesk(error: unknown, today: string): Desk {
	const refuse = () => Promise.reject(error);
	const verbs = new Proxy({} as Verbs, { get: () => refuse });
	return {
		state: signal("blocked" as const),
		me: signal(null),
		safety: signal(NOTHING),
		today: signal(today),
		now: () => today,
		records: signal(new RecordIndex().view(true)),
		...{ tasks: signal([]), allTasks: signal([]), outlooks: signal([]), demo: signal(null) },
		tasksOn: () => [],
		position: signal({ state: "off" as const, fix: null }),
		watchPosition: () => () => undefined,
		verbs,
		server: new Proxy({} as Desk["server"], { get: () => refuse }),
		...{ entriesOf: refuse, needsFixing: refuse, unsentEntries: refuse, exchangeNow: refuse },
		...{ exportUnsent: refuse, takePhoto: refuse, photoUrl: refuse },
		search: () => [],
		draft: { load: async () => undefined, keep: () => undefined, drop: () => undefined },
		update: async () => {
			location.reload();
			return true;
		},
	};
}
