// A server in a few lines, faithful to the rules of the exchange: numbers, verdicts, cursors, epochs,
// restores. It is the measure that the phones are held against, so it shares no code with them but JSON.

import { canonical } from "../../../pwa/src/kernel/canonical";
import { mergeStamp } from "../../../pwa/src/kernel/clock";
import type {
	Answer,
	Entry,
	ExchangeAnswer,
	ExchangeRequest,
	Json,
	Line,
	PhotoNamed,
	Refusal,
	Verdict,
} from "../../../pwa/src/sync/ports";

interface Books {
	epoch: string;
	/** By id; each at its newest number. */
	lines: { [id: string]: Line };
	/** Number to id: an entry that is delivered again has two numbers. */
	feed: string[];
	photos: { [sha256: string]: number[] };
	/** Bytes of each photo, once they are known to be whole. */
	whole: { [sha256: string]: boolean };
}

export type Said = { status: number; body: Json };

const GAP = 97;
const RIPE = ["none", "young", "turning", "ripe", "spent", "unseen"];

export class ModelServer {
	private books: Books = { epoch: "E0", lines: {}, feed: [], photos: {}, whole: {} };
	private copies: Books[] = [];
	private epochs = 0;
	private starts = 0;

	constructor(
		private readonly wall: () => number,
		private readonly page: number,
	) {}

	get lines(): readonly Line[] {
		return Object.values(this.books.lines);
	}

	photo(sha256: string): number[] | undefined {
		return this.books.whole[sha256] ? this.books.photos[sha256] : undefined;
	}

	backUp(): void {
		this.copies.push(structuredClone(this.books));
	}

	/**
	 * By the tool: a new epoch. By hand: the file is laid back and nothing tells of it, but that a
	 * started server leaves a gap in its numbers, so that none is given twice to the same entry.
	 * Photos lie in a folder beside; it is laid back by the tool alone.
	 */
	restore(byTool: boolean, which = -1): void {
		const copy = this.copies.at(which);
		if (!copy) return;
		const { photos, whole } = this.books;
		this.books = { ...structuredClone(copy), ...(byTool ? {} : { photos, whole }) };
		if (byTool) this.books.epoch = `E${++this.epochs}`;
		else this.books.feed.push(...Array(GAP * ++this.starts).fill(""));
	}

	exchange(person: string, request: ExchangeRequest): Said {
		const diverged = [request.cursor, request.high].some((mark) => mark && !this.holds(mark));
		if (diverged)
			return {
				status: 409,
				body: { code: "history-diverged", epoch: this.books.epoch, head: this.head },
			};
		const stored: Verdict[] = [];
		const refused: Refusal[] = [];
		for (const offered of request.entries) this.take(person, offered, stored, refused);
		return { status: 200, body: this.answer(request, stored, refused) as unknown as Json };
	}

	digest(ids: string[], photos: string[]): Said {
		const lacks = ids.filter((id) => !this.books.lines[id]);
		const lacks_photos = photos.filter((sha256) => !this.books.whole[sha256]);
		return { status: 200, body: { epoch: this.books.epoch, lacks, lacks_photos } };
	}

	photoOffset(sha256: string): Said {
		const there = this.books.photos[sha256];
		if (!there) return { status: 404, body: null };
		return {
			status: 200,
			body: { offset: there.length, complete: this.books.whole[sha256] ?? false },
		};
	}

	photoPut({ sha256, bytes }: PhotoNamed, offset: number, piece: number[]): Said {
		this.books.photos[sha256] ??= [];
		const there = this.books.photos[sha256];
		if (offset !== there.length)
			return {
				status: 200,
				body: { offset: there.length, complete: this.books.whole[sha256] ?? false, matched: false },
			};
		there.push(...piece);
		const complete = there.length >= bytes;
		if (complete) this.books.whole[sha256] = true;
		return { status: 200, body: { offset: there.length, complete, matched: true } };
	}

	private get head(): number {
		return this.books.feed.length;
	}

	private holds({ epoch, seq, entry }: NonNullable<ExchangeRequest["cursor"]>): boolean {
		if (epoch !== this.books.epoch || seq > this.head) return false;
		return seq === 0 || this.books.feed[seq - 1] === entry;
	}

	private take(
		person: string,
		offered: Entry & { received?: number },
		stored: Verdict[],
		refused: Refusal[],
	): void {
		const { received: known, ...entry } = offered;
		const before = this.books.lines[entry.id];
		if (before && canonical(contentOf(before)) !== canonical(entry as Json)) {
			refused.push({ id: entry.id, code: "id-reused" });
			return;
		}
		if (before) this.believe(before, known ?? before.received);
		const line = before ?? this.append(person, entry, known);
		const { seq, state, received } = line;
		stored.push({
			id: entry.id,
			seq,
			state,
			received,
			errors: [],
			...(before ? { again: true } : {}),
		});
	}

	/** An earlier receipt that changes the order of things is told to everybody again. */
	private believe(line: Line, received: number): void {
		const later = mergeStamp(line.made, line.received);
		line.received = Math.min(line.received, received);
		if (mergeStamp(line.made, line.received) === later) return;
		this.books.feed.push(line.id);
		line.seq = this.head;
	}

	private append(person: string, entry: Entry, known: number | undefined): Line {
		const ripeness = entry.data.ripeness;
		const held = entry.kind === "sori.seen" && !RIPE.includes(String(ripeness));
		const now = this.wall();
		const line: Line = {
			...structuredClone(entry),
			seq: this.head + 1,
			received: Math.min(now, known ?? now),
			state: held ? "held" : "stored",
			vouched: entry.by === person,
		};
		this.books.lines[line.id] = line;
		this.books.feed.push(line.id);
		return line;
	}

	private answer(request: ExchangeRequest, stored: Verdict[], refused: Refusal[]): ExchangeAnswer {
		const sent = new Set(request.entries.map(({ id }) => id));
		const from = request.cursor?.seq ?? 0;
		const numbers = this.books.feed.flatMap((id, i) => (i >= from && id ? [i + 1] : []));
		const scanned = numbers.slice(0, Math.min(this.page, request.limit));
		const seq = scanned.at(-1) ?? from;
		const lines = scanned.flatMap((number) => {
			const line = this.books.lines[this.books.feed[number - 1] ?? ""];
			return line && line.seq === number && !sent.has(line.id) ? [line] : [];
		});
		return {
			stored,
			refused,
			entries: structuredClone(lines),
			cursor: { epoch: this.books.epoch, seq, entry: this.books.feed[seq - 1] ?? null },
			more: numbers.length > scanned.length,
			server_now: new Date(this.wall()).toISOString(),
			backed_up: null,
			outlooks: [],
			numbers: [],
		};
	}
}

function contentOf({ seq: _s, received: _r, state: _t, vouched: _v, ...entry }: Line): Json {
	return entry as unknown as Json;
}

/** As the phone's transport would hand it on. */
export function heard<T>({ status, body }: Said): Answer<T> {
	if (status === 200)
		return { ok: true, value: structuredClone(body) as T, status, roundTripMs: 0 };
	const code = (body as { code?: string } | null)?.code ?? null;
	return { ok: false, status, code, body };
}
