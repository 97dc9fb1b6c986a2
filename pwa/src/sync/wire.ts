// What travels and what is kept: the shapes of the logbook on the phone (design: logbook, "On the wire").

import type { Task } from "../kernel/due";
import type { FoldedRecord, Json } from "../kernel/record";

export type { FoldedRecord, Json, Task };
export type Id = string;

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

/**
 * unsent: only on this phone · refused: the server can never store it; kept here for its writer ·
 * replaced: was refused, and has been written again.
 */
export type EntryState = "unsent" | "stored" | "held" | "refused" | "replaced";

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
	/** null only in a logbook without entries. */
	entry: Id | null;
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
	/** The highest `n` of an outlook that this phone has. */
	outlooks?: number;
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

/**
 * After a 409: which of our ids have been asked for (they are asked in their own order), then the
 * photos; "pull": all were asked in this epoch, and nothing has been pulled in it yet.
 */
export interface Checking {
	epoch: string | null;
	stage: "entries" | "photos" | "pull";
	after: string;
}

/** What the last exchange said beside the entries. */
export interface ServerSaid {
	/** Phone clock minus server clock. */
	clockOffMs: number;
	shiftDays: number;
	backedUp: { epoch: string; seq: number; at: string } | null;
	/** Wall ms of the exchange on this phone. */
	atMs: number;
}

/** Running numbers of this phone, by series ("box", "MV"). */
export interface NumberState {
	/** A server has handed out blocks. */
	met: boolean;
	blocks: { [series: string]: { from: number; to: number }[] };
	/** The last number taken, and how many letters were put to it (1 = a). */
	last: { [series: string]: { n: number; letters: number } };
}

/** Who uses this phone, as it knows itself. */
export interface PhoneOwner {
	person: Id;
	name: string;
	initials: string;
	device: Id;
	deviceLabel: string;
	logbook: { id: Id; name: string } | null;
	role: "owner" | "grower" | "watcher" | "onlooker" | null;
}

/** Where the phone stands with the server. */
export interface Standing {
	cursor: Cursor | null;
	high: Cursor | null;
	checking: Checking | null;
}
