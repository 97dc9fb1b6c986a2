/** A desk without a store: what it shows is given, what is asked of its verbs is written down. */
import { type Signal, signal } from "@preact/signals";
import type {
	Desk,
	DeskState,
	FoldedRecord,
	Json,
	Me,
	Safety,
	Saved,
	ServerDesk,
	Shelves,
	StoredEntry,
	Task,
	Verbs,
} from "../../../pwa/src/records/desk";
import { shelvesOf } from "./records";

export interface Called {
	verb: string;
	args: unknown[];
}

export const allSafe: Safety = {
	unsent: 0,
	unsentPhotos: 0,
	oldestUnsentMs: null,
	onServer: 120,
	backedUp: 120,
	photosHere: 0,
	checking: 0,
	refused: 0,
	held: 0,
	persisted: true,
	clockOffMs: 0,
	link: "online",
	exchanging: false,
	lastExchangeMs: 0,
	storageFull: false,
	otherTabNewer: false,
	updateReady: false,
};

export const mirela: Me = {
	person: "mirela",
	name: "Mirela Vask",
	initials: "MV",
	device: "phone",
	deviceLabel: "Mirela's phone",
	logbook: { id: "ostrel", name: "Ostrel Fold ferns" },
	role: "owner",
	joined: true,
};

const numbers: Record<string, string> = {
	box: "box 31",
	packet: "packet 72",
	mine: "MV 28",
	mix: "mix 7",
	plant: "plant 8",
	pots: "pots 4",
	shelf: "shelf 3",
};

export interface Shown {
	state?: DeskState;
	me?: Me | null;
	today?: string;
	records?: FoldedRecord[];
	tasks?: Task[];
	safety?: Partial<Safety>;
	demo?: { today: string } | null;
	entries?: StoredEntry[];
	/** Left in forms by an earlier start. */
	drafts?: { [key: string]: Json };
	/** Every verb fails with this. */
	failing?: { code: string; message?: string };
}

export interface FakeDesk extends Desk {
	called: Called[];
	undone: string[];
	tasks: Signal<Task[]>;
	allTasks: Signal<Task[]>;
	records: Signal<Shelves>;
	safety: Signal<Safety>;
}

/** What a verb is told is noted; it resolves at once with made records named after it. */
function verbsOf(shown: Shown, called: Called[], undone: string[]): Verbs {
	const saved = (verb: string): Saved => ({
		made: { box: "box-new", shelf: "shelf-new", sowing: "sowing-new", mix: "mix-new" },
		ids: [`${verb}-entry`],
		undo: async () => {
			undone.push(verb);
			return saved("undo");
		},
	});
	return new Proxy({} as Verbs, {
		get: (_, verb: string) => {
			if (verb === "nextNumber") return (series: string) => numbers[series] ?? `${series} 1`;
			return async (...args: unknown[]) => {
				called.push({ verb, args });
				if (shown.failing) throw shown.failing;
				return saved(verb);
			};
		},
	});
}

/** Anything of the server that a test does not look at answers with nothing. */
function serverOf(called: Called[]): ServerDesk {
	const push = signal("off" as const);
	return new Proxy({} as ServerDesk, {
		get: (_, name: string) => {
			if (name === "push") return push;
			return async (...args: unknown[]) => {
				called.push({ verb: `server.${name}`, args });
			};
		},
	});
}

function draftsInMemory(left: { [key: string]: Json } = {}): Desk["draft"] {
	const drafts = new Map(Object.entries(left));
	return {
		load: async (key) => drafts.get(key),
		keep: (key, value) => void drafts.set(key, value),
		drop: (key) => void drafts.delete(key),
	};
}

export function fakeDesk(shown: Shown = {}): FakeDesk {
	const called: Called[] = [];
	const undone: string[] = [];
	const today = shown.today ?? "2026-08-18";
	const tasks = shown.tasks ?? [];
	const note = (verb: string, ...args: unknown[]) => {
		called.push({ verb, args });
	};
	return {
		called,
		undone,
		state: signal(shown.state ?? "ready"),
		me: signal(shown.me === undefined ? mirela : shown.me),
		safety: signal({ ...allSafe, ...shown.safety }),
		today: signal(today),
		records: signal(shelvesOf(shown.records ?? [])),
		tasks: signal(tasks),
		allTasks: signal(tasks),
		outlooks: signal([]),
		demo: signal(shown.demo ?? null),
		position: signal({ state: "off", fix: null }),
		watchPosition: () => () => {},
		verbs: verbsOf(shown, called, undone),
		server: serverOf(called),
		now: () => `${today}T14:20:00+01:00`,
		tasksOn: () => tasks,
		entriesOf: async (record) =>
			(shown.entries ?? []).filter(({ entry }) => entry.about === record),
		needsFixing: async () => [],
		unsentEntries: async () => [],
		search: () => [],
		exchangeNow: async () => note("exchangeNow"),
		exportUnsent: async () => ({ name: "notes.json", type: "application/json", text: "{}" }),
		takePhoto: async () => ({ sha256: "00", bytes: 1, type: "image/jpeg", w: 1, h: 1 }),
		photoUrl: async () => null,
		draft: draftsInMemory(shown.drafts),
		update: async () => {
			note("update");
			return true;
		},
	};
}
