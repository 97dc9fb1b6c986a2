// What the exchange needs of the world. storage/ and transport/ implement these; only app/ picks them.

export type Id = string;
export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** One immutable line of the logbook, exactly as it was written. Unknown fields are kept. */
export interface Entry {
	id: Id;
	kind: string;
	v: number;
	about: Id;
	also?: Id[];
	at: string;
	span?: { to: string; said: string };
	made: string;
	by?: Id;
	device?: Id;
	data: { [field: string]: Json };
	seen?: { [field: string]: Id[] };
	[unknown: string]: Json | undefined;
}

export interface EntryFault {
	code: string;
	where: string | null;
	message: string;
	fix: string | null;
}

/** unsent: only on this phone · refused: the server can never store it; kept here for its writer. */
export type EntryState = "unsent" | "stored" | "held" | "refused";

/** An entry with what the server said of it. */
export interface StoredEntry {
	id: Id;
	entry: Entry;
	state: EntryState;
	seq: number | null;
	/** ms of first receipt by a server. */
	received: number | null;
	errors: EntryFault[];
	vouched: boolean;
	via: Id | null;
	/** Not proved to be on the server after it went back to an older copy. */
	checking: boolean;
}

/** A folded record: plain JSON, the same in both languages (kernel/fold). */
export interface FoldedRecord {
	id: Id;
	type: string | null;
	fields: { [kind: string]: { [field: string]: Json } };
	heads: { [kind: string]: { [field: string]: Id[] } };
	questions: (
		| { kind: string; field: string; heads: Id[]; values: Json[] }
		| { sum: string; value: number }
	)[];
	facts: Id[];
	struck: Id[];
	held: Id[];
	unknown: Id[];
	states: { [name: string]: { value: Json; at: string; since: string; entry: Id } };
	first: { [kind: string]: { entry: Id; at: string } };
	last: { [kind: string]: { entry: Id; at: string } };
	sums: { [name: string]: number };
}

export interface Task {
	/** "{subject}/{rule}/{anchor date}" */
	id: string;
	subject: Id;
	rule: string;
	due: string;
	until: string | null;
	ask: string[];
	from_outlook: boolean;
	covers: Id[];
}

export interface OutlookRow {
	about: Id;
	n: number;
	on: string;
	from: string;
	to: string;
	evidence: Json;
}

/** A photo as its entry names it. */
export interface PhotoNamed {
	sha256: string;
	bytes: number;
	type: string;
	w: number;
	h: number;
}

/** draft: taken, no entry yet · here: only on this phone · dropped: only the thumbnail stays here. */
export type PhotoState = "draft" | "here" | "uploading" | "server" | "dropped";

/** Where the phone stands in a server's history. */
export interface Cursor {
	epoch: string;
	seq: number;
	entry: Id;
}

/** A line as the server sends it: the entry, and what the server said beside it. */
export type Line = Entry & {
	seq: number;
	received: number;
	state: "stored" | "held";
	vouched?: boolean;
	via?: Id;
	errors?: EntryFault[];
};

export interface Verdict {
	id: Id;
	seq: number;
	state: "stored" | "held";
	received: number;
	errors?: EntryFault[];
	again?: boolean;
}

export interface Refusal {
	id?: Id;
	index?: number;
	code: string;
	message?: string;
	where?: string;
	fix?: string;
}

export interface NumberBlock {
	series: string;
	from: number;
	to: number;
}

export interface ExchangeRequest {
	cursor: Cursor | null;
	high: Cursor | null;
	now: string;
	unsent: { count: number; oldest: string | null };
	entries: (Entry & { received?: number })[];
	limit: number;
	numbers?: { series: string; left: number }[];
}

export interface ExchangeAnswer {
	stored: Verdict[];
	refused: Refusal[];
	entries: Line[];
	cursor: Cursor;
	more: boolean;
	server_now: string;
	backed_up: { epoch: string; seq: number; at: string } | null;
	outlooks: OutlookRow[];
	numbers: NumberBlock[];
	today?: string;
	shift_days?: number;
}

export interface DigestAnswer {
	epoch: string;
	lacks: Id[];
	lacks_photos: string[];
}

/** status null: no answer that can be the server's (no signal, time ran out, a page of a captive portal). */
export type Answer<T> =
	| { ok: true; value: T; status: number; roundTripMs: number }
	| { ok: false; status: number | null; code: string | null; body: Json };

/** The network. Implementations never throw for a lost connection: they answer ok: false. */
export interface Transport {
	exchange(logbook: Id, request: ExchangeRequest): Promise<Answer<ExchangeAnswer>>;
	digest(logbook: Id, ids: Id[], photos: string[]): Promise<Answer<DigestAnswer>>;
	/** How much of a photo the server has. */
	photoOffset(logbook: Id, sha256: string): Promise<Answer<{ offset: number; complete: boolean }>>;
	/** Append at the offset; the new offset, or the true one on a mismatch (ok with matched: false). */
	photoPut(
		logbook: Id,
		photo: PhotoNamed,
		offset: number,
		piece: ArrayBuffer,
	): Promise<Answer<{ offset: number; complete: boolean; matched: boolean }>>;
	photoGet(logbook: Id, sha256: string): Promise<Answer<ArrayBuffer>>;
}

/** After a 409: which of our ids have been asked for; ids are asked in their own order. */
export interface Checking {
	epoch: string | null;
	stage: "entries" | "photos";
	after: string;
}

export interface Standing {
	logbook: Id | null;
	cursor: Cursor | null;
	high: Cursor | null;
	checking: Checking | null;
}

/** What one answer changes, written in one strict transaction. */
export interface ExchangeChange {
	verdicts: Verdict[];
	refused: { id: Id; error: EntryFault }[];
	lines: Line[];
	outlooks: OutlookRow[];
	cursor: Cursor;
	high: Cursor;
	numbers: NumberBlock[];
	server: ServerSaid;
	/** Moves the persisted clock by what was received; runs inside the transaction. */
	moveClock(stored: string | null): string | null;
}

/** What the last exchange said beside the entries. */
export interface ServerSaid {
	/** Phone clock minus server clock. */
	clockOffMs: number;
	shiftDays: number;
	demo: boolean;
	backedUp: { epoch: string; seq: number; at: string } | null;
	/** Wall ms of the exchange on this phone. */
	atMs: number;
}

export interface WaitingPhoto extends PhotoNamed {
	state: PhotoState;
}

/** The store as the exchange sees it. Every writing call is one strict transaction. */
export interface Store {
	standing(): Promise<Standing>;
	/** Entries with no seq (and not refused), oldest stamp first; `skip` are put aside for now. */
	outbox(limit: number, skip: ReadonlySet<Id>): Promise<StoredEntry[]>;
	unsent(): Promise<{ count: number; oldestMade: string | null }>;
	/** Numbers left per series. */
	numbersLeft(): Promise<{ series: string; left: number }[]>;
	/** The records that are touched. */
	applyExchange(change: ExchangeChange): Promise<Id[]>;
	/** cursor and high := null, everything with a seq is to be asked for. */
	beginChecking(): Promise<void>;
	idsToCheck(after: string, limit: number): Promise<Id[]>;
	photosToCheck(after: string, limit: number): Promise<string[]>;
	/** What is lacking loses its seq and goes out again; checking moves on (null: all asked). */
	settleChecked(lacks: Id[], lacksPhotos: string[], next: Checking | null): Promise<Id[]>;
	/** Photos to be uploaded, oldest first. */
	waitingPhotos(): Promise<WaitingPhoto[]>;
	photoPiece(sha256: string, offset: number, length: number): Promise<ArrayBuffer | null>;
	setPhotoState(sha256: string, state: PhotoState): Promise<void>;
}

/** Time that passes. */
export interface Timers {
	after(ms: number, work: () => void): () => void;
}

/** One holder among all tabs of this phone; resolves undefined, without working, when another one holds it. */
export interface Lock {
	hold<T>(name: string, work: () => Promise<T>): Promise<T | undefined>;
}

/** The phone's own clock, right or wrong. */
export interface Clock {
	/** ms since 1970. */
	wall(): number;
	/** Minutes east of UTC at that instant, in the phone's zone. */
	offsetMinutes(ms: number): number;
	/** IANA name, "Europe/Berlin". */
	zone(): string;
}

export interface Ids {
	/** UUIDv7. */
	uuid(): Id;
	/** 0 ≤ n < below. */
	draw(below: number): number;
	/** 16 lower-case hex digits: the clock's node of a new local store. */
	node(): string;
}
