// What the phone's core needs of the world. storage/ and transport/ implement these; only app/ picks them.

import type {
	Answer,
	Checking,
	Cursor,
	DigestAnswer,
	Entry,
	EntryFault,
	ExchangeAnswer,
	ExchangeRequest,
	FoldedRecord,
	Id,
	Json,
	Line,
	NumberBlock,
	NumberState,
	OutlookRow,
	PhoneOwner,
	PhotoNamed,
	PhotoState,
	ServerSaid,
	Standing,
	StoredEntry,
	Verdict,
} from "./wire";

export type * from "./wire";

/** What the phone itself finds wrong. The code names the text; a server's own words go along where there are any. */
export class PhoneError extends Error {
	override readonly name = "PhoneError";
	constructor(
		readonly code: string,
		readonly said: {
			message?: string;
			where?: string | null;
			fix?: string | null;
			cause?: unknown;
		} = {},
	) {
		super(said.message ?? code, { cause: said.cause });
	}
	get where(): string | null {
		return this.said.where ?? null;
	}
	get fix(): string | null {
		return this.said.fix ?? null;
	}
}

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

export interface JoinRequest {
	invitation: string;
	device: { id: Id; label: string };
	person: { id: Id; name: string; initials: string } | null;
}
export interface JoinAnswer {
	person: { id: Id; name: string; initials: string };
	device: { id: Id; label: string };
	logbook: { id: Id; name: string };
}
export interface MeAnswer {
	person: { id: Id; name: string; initials: string };
	device: { id: Id; label: string };
	logbooks: { id: Id; name: string; role: NonNullable<PhoneOwner["role"]> }[];
	server: { version: string };
}

/** The server's calls beside the exchange. Like Transport, never throws for a lost connection. */
export interface Account {
	join(request: JoinRequest): Promise<Answer<JoinAnswer>>;
	me(): Promise<Answer<MeAnswer>>;
	/** Any other call of the API, by its path below /api/v1. */
	call<T>(
		method: "GET" | "POST" | "PUT" | "PATCH" | "DELETE",
		path: string,
		body?: Json,
	): Promise<Answer<T>>;
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

/** The store as the exchange sees it. Every writing call is one strict transaction. */
export interface Store {
	standing(): Promise<Standing>;
	owner(): Promise<PhoneOwner | null>;
	numbers(): Promise<NumberState>;
	/** The highest `n` of an outlook here; 0 when there is none. */
	newestOutlook(): Promise<number>;
	/** Entries with no seq (and not refused), oldest stamp first; `skip` are put aside for now. */
	outbox(limit: number, skip: ReadonlySet<Id>): Promise<StoredEntry[]>;
	unsent(): Promise<{ count: number; oldestMade: string | null }>;
	/** Answers with the records that are touched. */
	applyExchange(change: ExchangeChange): Promise<Id[]>;
	/** cursor and high := null; everything with a seq is to be asked for. */
	beginChecking(): Promise<void>;
	idsToCheck(after: string, limit: number): Promise<Id[]>;
	photosToCheck(after: string, limit: number): Promise<string[]>;
	/** What is lacking loses its seq and goes out again. */
	settleChecked(lacks: Id[], lacksPhotos: string[], next: Checking): Promise<Id[]>;
	/** Photos to be uploaded. */
	waitingPhotos(): Promise<PhotoNamed[]>;
	/** Bytes from an offset to the end of the stored piece; null when there are none. */
	photoPiece(sha256: string, offset: number): Promise<ArrayBuffer | null>;
	setPhotoState(sha256: string, state: PhotoState): Promise<void>;
}

/** What a verb writes. `make` runs inside the strict transaction: synchronous, no other call. */
export interface SaveWork {
	make(found: { clock: string | null; numbers: NumberState }): {
		clock: string;
		numbers?: NumberState;
		entries: Entry[];
		owner?: PhoneOwner;
	};
	/** Photos that these entries name: from now on they wait to be sent. */
	photos?: string[];
	dropDraft?: string;
	/** A refused entry that these ones write again. */
	replaces?: Id;
}

/** The store as verbs and shelves see it. */
export interface RecordStore {
	owner(): Promise<PhoneOwner | null>;
	setOwner(owner: PhoneOwner | null): Promise<void>;
	/** Ids under which a phone asks to join: those of the first time, whatever is offered later. */
	applicant(ids: { person: Id; device: Id }): Promise<{ person: Id; device: Id }>;
	numbers(): Promise<NumberState>;
	server(): Promise<ServerSaid | null>;
	outlooks(): Promise<OutlookRow[]>;
	/** One strict transaction; the entries as stored. */
	save(work: SaveWork): Promise<StoredEntry[]>;
	entries(ids: Id[]): Promise<StoredEntry[]>;
	/** Per record, every entry that is about it or names it in `also`. */
	entriesOf(records: Id[]): Promise<Map<Id, StoredEntry[]>>;
	/** All records there are entries of. */
	recordIds(): Promise<Id[]>;
	/** Every writing transaction is one change; the records touched by those after `change`. */
	changesSince(change: number): Promise<{ upto: number; records: Id[] }>;
	unsentEntries(): Promise<StoredEntry[]>;
	/** Held and refused. */
	attention(): Promise<StoredEntry[]>;
	counts(): Promise<Counts>;
	/** A joined logbook differs from the one before: everything is offered to it. */
	offerAll(owner: PhoneOwner): Promise<void>;
}

export interface Counts {
	unsent: number;
	oldestMade: string | null;
	onServer: number;
	backedUp: number;
	checking: number;
	refused: number;
	photosHere: number;
}

/** A folded record, and what its entries say beside it that lists and search need at once. */
export interface KeptFold {
	id: Id;
	record: FoldedRecord;
	side: Side;
}

export interface Side {
	/** What can be searched, and where it stands. */
	texts: [where: "name" | "label" | "number" | "code" | "note" | "words", text: string][];
	/** Where a box stands on its shelf, by its last placing. */
	placeNo: number | null;
	/** Photos of standing entries, oldest first. */
	photos: PhotoNamed[];
	/** Some entry of it exists only on this phone. */
	onlyHere: boolean;
}

/** Folded records, kept only to start quickly; may be thrown away at any time. */
export interface FoldCache {
	/** null when it does not fit this version of the rules. `change`: what it is folded up to. */
	read(rules: string): Promise<{ change: number; folds: KeptFold[] } | null>;
	write(rules: string, change: number, folds: KeptFold[], whole: boolean): Promise<void>;
}

/** Word between the tabs of this phone. */
export interface Shout {
	tell(message: ShoutMessage): void;
	heard(listener: (message: ShoutMessage) => void): () => void;
}
export type ShoutMessage =
	| { kind: "records"; ids: Id[] }
	| { kind: "owner" }
	| { kind: "exchange" };

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
