// What every screen asks for. Types only: app/ makes the one Desk, parts/desk-context hands it down.

import type { ReadonlySignal } from "@preact/signals-core";
import type { Growing } from "../contract/taxa";
import type {
	EntryFault,
	FoldedRecord,
	Id,
	Json,
	OutlookRow,
	PhotoNamed,
	PhotoState,
	StoredEntry,
	Task,
} from "../sync/ports";
import type { Verbs } from "./verb-inputs";

export type * from "./verb-inputs";
export type {
	EntryFault,
	FoldedRecord,
	Growing,
	Id,
	Json,
	OutlookRow,
	PhotoNamed,
	PhotoState,
	StoredEntry,
	Task,
};

/** starting: not read yet · unclaimed: nobody has said who they are · blocked: the browser refuses storage. */
export type DeskState = "starting" | "unclaimed" | "ready" | "blocked";

export type Role = "owner" | "grower" | "watcher" | "onlooker";

export interface Me {
	person: Id;
	name: string;
	initials: string;
	device: Id;
	deviceLabel: string;
	/** null until this phone has joined a server's logbook. */
	logbook: { id: Id; name: string } | null;
	role: Role | null;
	joined: boolean;
}

export type Link = "online" | "offline" | "signed-out" | "shut-out" | "diverged";

export interface Safety {
	/** Entries and full-size photos that exist only on this phone; age of the oldest of them in ms. */
	unsent: number;
	unsentPhotos: number;
	oldestUnsentMs: number | null;
	onServer: number;
	backedUp: number;
	photosHere: number;
	/** Being asked for again after the server went back to an older copy; not counted as lost. */
	checking: number;
	refused: number;
	/** Held entries written on this phone's person that still want to be put right. */
	held: number;
	persisted: boolean;
	/** Phone clock minus server clock; null before the first exchange. */
	clockOffMs: number | null;
	link: Link;
	exchanging: boolean;
	lastExchangeMs: number | null;
	storageFull: boolean;
	/** A newer version of the app runs in another tab and has changed the store: reload. */
	otherTabNewer: boolean;
	/** A newer version of the app is ready to be used; see Desk.update. */
	updateReady: boolean;
}

/** The name nearest up the line, and the record that carries it (logbook: line.ts). */
export interface Naming {
	taxon: string | null;
	sure: "certain" | "probable" | "received" | "unknown";
	qualifier: "cf" | "aff" | "ex" | null;
	other: string | null;
	from: Id;
}

/** Something that needs two records to be seen: the same number or code twice, a parent that is not there. */
export interface CrossQuestion {
	question: "number-twice" | "code-twice" | "parent-missing";
	value: string;
	records: Id[];
}

export interface Shelves {
	/** Follows `same_as`: the record that stands for this id. */
	get(id: Id): FoldedRecord | undefined;
	ofType(type: string): FoldedRecord[];
	/** Sowings in a box, by part. */
	sowingsIn(box: Id): FoldedRecord[];
	/** Boxes on a shelf, by place_no, then label. */
	boxesOn(shelf: Id): FoldedRecord[];
	/** Packets, gatherings, sowings, clumps, pots that came from this record. */
	cameOf(id: Id): FoldedRecord[];
	nameOf(id: Id): Naming | null;
	/** What a sowing's fern usually does, as due() takes it; `guess` where its kind is not known. */
	growingOf(sowing: Id): Growing;
	/** "box 31", "MV 28", a given name; never empty. */
	labelOf(id: Id): string;
	codeOf(id: Id): string | null;
	byCode(code: string): FoldedRecord[];
	/** Questions within a record and between records; empty while an exchange is not finished. */
	questions(): FoldedRecord[];
	crossQuestions(): CrossQuestion[];
	/** Photos of a record's standing entries, oldest first. */
	photosOf(id: Id): PhotoNamed[];
	/** True when an entry of this record exists only on this phone. */
	onlyHere(id: Id): boolean;
	readonly size: number;
}

export interface Found {
	record: Id;
	type: string | null;
	label: string;
	name: Naming | null;
	/** Where it was found: a name, a number, a code, a note. */
	in: "name" | "label" | "number" | "code" | "note" | "words";
	text: string;
}

/** A picture just taken: scaled down, metadata removed, kept on the phone until a verb uses it. */
export type TakenPhoto = PhotoNamed;

/** A file as the browser gives it (File and Blob fit). */
export interface PhotoFile {
	readonly type: string;
	arrayBuffer(): Promise<ArrayBuffer>;
}

export interface ExportFile {
	name: string;
	type: string;
	text: string;
}

export type PositionState = "off" | "waiting" | "here" | "refused" | "unavailable";

export interface PersonRow {
	id: Id;
	name: string;
	initials: string;
	role: Role;
	devices: DeviceRow[];
}
export interface DeviceRow {
	id: Id;
	label: string;
	lastSeen: string | null;
	shutOut: boolean;
}
export interface Invitation {
	code: string;
	url: string;
	expires: string;
}
export interface InvitationRow {
	id: Id;
	role: Role;
	person: Id | null;
	expires: string;
}

export type PushState = "off" | "on" | "refused" | "unsupported" | "install-first" | "working";

/** What needs a signal; each rejects with a DeskError when there is none. */
export interface ServerDesk {
	people(): Promise<PersonRow[]>;
	setRole(person: Id, role: Role): Promise<void>;
	removePerson(person: Id): Promise<void>;
	shutOut(person: Id, device: Id): Promise<void>;
	invite(input: { role: Role; person?: Id }): Promise<Invitation>;
	invitations(): Promise<InvitationRow[]>;
	withdraw(invitation: Id): Promise<void>;
	calendarLink(): Promise<string>;
	revokeCalendarLink(): Promise<void>;
	push: ReadonlySignal<PushState>;
	/** Must be called straight from a tap (browsers refuse otherwise). */
	turnPushOn(): Promise<void>;
	turnPushOff(): Promise<void>;
	signOut(): Promise<void>;
	/** Only in the demo. */
	moveClock(to: "next" | string): Promise<void>;
}

/** Every error that reaches a screen: say what happened, what is safe, what to do (texts: errors.json by code). */
export interface DeskFault {
	code: string;
	message: string;
	where: string | null;
	fix: string | null;
}

export interface Desk {
	state: ReadonlySignal<DeskState>;
	me: ReadonlySignal<Me | null>;
	safety: ReadonlySignal<Safety>;
	/** Local date by the phone's clock, the difference to the server, and the demo's shift: "YYYY-MM-DD". */
	today: ReadonlySignal<string>;
	/** Local time with offset, by the phone's clock and the difference to the server: "2026-08-18T14:20:31+02:00". */
	now(): string;
	records: ReadonlySignal<Shelves>;
	/** All open tasks of the boxes and shelves that I keep (and those that nobody keeps), sorted. */
	tasks: ReadonlySignal<Task[]>;
	/** The same for everybody. */
	allTasks: ReadonlySignal<Task[]>;
	/** due() of all boxes and shelves as if that day were today. */
	tasksOn(day: string): Task[];
	outlooks: ReadonlySignal<OutlookRow[]>;
	demo: ReadonlySignal<{ today: string } | null>;
	position: ReadonlySignal<{ state: PositionState; fix: import("./verb-inputs").Fix | null }>;
	/** Begin watching the position (asks the person once); returns the way to stop. */
	watchPosition(): () => void;
	verbs: Verbs;
	server: ServerDesk;
	/** All entries of a record in the order of the fold: by day, hour, stamp; struck and held ones too. */
	entriesOf(record: Id): Promise<StoredEntry[]>;
	needsFixing(): Promise<StoredEntry[]>;
	unsentEntries(): Promise<StoredEntry[]>;
	search(text: string): Found[];
	exchangeNow(): Promise<void>;
	/** Everything that exists only here, as one file that needs no server; photos with base64 bytes. */
	exportUnsent(): Promise<ExportFile>;
	takePhoto(file: PhotoFile): Promise<TakenPhoto>;
	/** An object URL, or null when this size is not on the phone and cannot be fetched now. */
	photoUrl(sha256: string, size: "thumb" | "full"): Promise<string | null>;
	draft: {
		load(key: string): Promise<unknown>;
		/** Written through within half a second and when the page is hidden. */
		keep(key: string, value: Json): void;
		drop(key: string): void;
	};
	/** Reload onto the newer version; refused (false) while a draft is dirty unless forced. */
	update(force?: boolean): Promise<boolean>;
}
