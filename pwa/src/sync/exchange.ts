// One exchange after the other until the outbox is empty and nothing more waits on the server.
// Everything that must not be lost is in the store; this class may be thrown away at any moment.

import { isStamp, readStamp, receive, writeStamp } from "../kernel/clock";
import { numbersLeft } from "./numbers";
import type {
	Answer,
	Clock,
	Cursor,
	EntryFault,
	ExchangeAnswer,
	ExchangeRequest,
	Id,
	Json,
	PhoneOwner,
	Refusal,
	ServerSaid,
	Standing,
	Store,
	StoredEntry,
	Transport,
} from "./ports";
import { utf8Length } from "./utf8";

export const MOST_ENTRIES = 500;
const MOST_BYTES = 1024 * 1024 - 8 * 1024;
const PAGE = 2000;

/** How a run ended: all done, or why it will be tried again, or what the person must do first. */
export type Outcome = "done" | "later" | "signed-out" | "shut-out";

export interface ExchangeNeeds {
	store: Store;
	transport: Transport;
	clock: Clock;
	/** Entries came in, or what is known of ours has changed. */
	arrived(records: Id[]): Promise<void>;
	/** After the server went back to an older copy: asks which of our entries and photos it lacks. */
	check(owner: PhoneOwner): Promise<Step>;
}

export type Step = "again" | Outcome;

export class Exchange {
	/** Entries that made a request unreadable for the server; tried again at the next start. */
	private readonly aside = new Set<Id>();
	private most = MOST_ENTRIES;

	constructor(private readonly needs: ExchangeNeeds) {}

	async run(owner: PhoneOwner): Promise<Outcome> {
		for (;;) {
			const standing = await this.needs.store.standing();
			const asking = standing.checking && standing.checking.stage !== "pull";
			const step = asking ? await this.needs.check(owner) : await this.step(owner, standing);
			if (step !== "again") return step;
		}
	}

	/** One round trip. */
	private async step(owner: PhoneOwner, standing: Standing): Promise<Step> {
		const { store, transport, clock } = this.needs;
		if (!owner.logbook) return "done";
		const batch = packed(await store.outbox(this.most, this.aside));
		const request = await this.request(owner, standing, batch);
		const sent = clock.wall();
		const answer = await transport.exchange(owner.logbook.id, request);
		if (!answer.ok) return this.failed(answer, batch);
		if (!isAnswer(answer.value)) return "later";
		const { checking } = standing;
		if (checking && checking.epoch !== answer.value.cursor.epoch) {
			await store.beginChecking(); // it went back once more since it was asked
			return "again";
		}
		this.most = MOST_ENTRIES;
		return this.apply(answer.value, standing, batch, sent + answer.roundTripMs / 2);
	}

	private async request(
		owner: PhoneOwner,
		{ cursor, high }: Standing,
		batch: StoredEntry[],
	): Promise<ExchangeRequest> {
		const { store, clock } = this.needs;
		const { count, oldestMade } = await store.unsent();
		const oldest = oldestMade === null ? null : readStamp(oldestMade).ms;
		return {
			cursor,
			high,
			now: instant(clock.wall()),
			unsent: { count, oldest: oldest === null ? null : instant(oldest) },
			entries: batch.map(asLine),
			limit: PAGE,
			numbers: numbersLeft(await store.numbers(), owner.initials),
			outlooks: await store.newestOutlook(),
		};
	}

	private async apply(
		answer: ExchangeAnswer,
		standing: Standing,
		batch: StoredEntry[],
		halfWay: number,
	): Promise<Step> {
		const { store, arrived, clock } = this.needs;
		const refused = answer.refused.flatMap((refusal) => named(refusal, batch));
		const records = await store.applyExchange({
			verdicts: answer.stored,
			refused,
			lines: answer.entries,
			outlooks: answer.outlooks ?? [],
			cursor: answer.cursor,
			high: highest(answer, standing.high),
			numbers: answer.numbers ?? [],
			server: this.said(answer, halfWay),
			moveClock: (stored) => moved(stored, answer, clock.wall()),
		});
		await arrived(records);
		const heard = new Set([...answer.stored, ...refused].map(({ id }) => id));
		const onward =
			batch.some(({ id }) => heard.has(id)) || answer.cursor.seq > (standing.cursor?.seq ?? -1);
		const waiting = answer.more || (await store.outbox(1, this.aside)).length > 0;
		return waiting ? (onward ? "again" : "later") : "done";
	}

	private said(answer: ExchangeAnswer, halfWay: number): ServerSaid {
		const serverMs = Date.parse(answer.server_now);
		return {
			clockOffMs: Number.isFinite(serverMs) ? Math.round(halfWay - serverMs) : 0,
			shiftDays: answer.shift_days ?? 0,
			backedUp: answer.backed_up ?? null,
			atMs: Math.round(halfWay),
		};
	}

	private async failed(
		answer: Answer<unknown> & { ok: false },
		batch: StoredEntry[],
	): Promise<Step> {
		switch (answer.status) {
			case 401:
				return answer.code === "shut-out" ? "shut-out" : "signed-out";
			case 404:
				return answer.code === "no-such-logbook" ? "shut-out" : "later";
			case 409:
				if (answer.code !== "history-diverged") return "later";
				await this.needs.store.beginChecking();
				return "again";
			case 400:
			case 413:
				return this.narrow(batch);
			default:
				return "later";
		}
	}

	/** A request that cannot be read is halved until the one entry at fault is put aside for now. */
	private narrow(batch: StoredEntry[]): Step {
		const [only] = batch;
		if (!only) return "later";
		if (batch.length > 1) this.most = Math.ceil(batch.length / 2);
		else this.aside.add(only.id);
		return "again";
	}
}

/** As many as fit into one request. */
function packed(waiting: StoredEntry[]): StoredEntry[] {
	let bytes = 0;
	const fits = waiting.findIndex((stored) => {
		bytes += utf8Length(JSON.stringify(asLine(stored))) + 1;
		return bytes > MOST_BYTES;
	});
	return fits < 0 ? waiting : waiting.slice(0, Math.max(1, fits));
}

function asLine({ entry, received }: StoredEntry): ExchangeRequest["entries"][number] {
	return received === null ? entry : { ...entry, received };
}

function named(refusal: Refusal, batch: StoredEntry[]): { id: Id; error: EntryFault }[] {
	const id = refusal.id ?? batch[refusal.index ?? -1]?.id;
	if (id === undefined) return [];
	const { code, message = "", where = null, fix = null } = refusal;
	return [{ id, error: { code, message, where, fix } }];
}

/** The highest number this phone was ever told, with its entry. */
function highest({ cursor, stored, entries }: ExchangeAnswer, before: Cursor | null): Cursor {
	const { epoch } = cursor;
	let high = before?.epoch === epoch && before.seq > cursor.seq ? before : cursor;
	for (const { seq, id } of [...stored, ...entries])
		if (seq > high.seq) high = { epoch, seq, entry: id };
	return high;
}

/** The own clock after all that came in; only the greatest stamp matters. */
function moved(stored: string | null, { entries }: ExchangeAnswer, wall: number): string | null {
	if (stored === null) return null;
	let greatest = "";
	for (const { made } of entries) if (isStamp(made) && made > greatest) greatest = made;
	return greatest ? writeStamp(receive(readStamp(stored), greatest, wall)) : stored;
}

function instant(ms: number): string {
	return new Date(ms).toISOString();
}

/** A page of somebody else's network can be JSON too. */
function isAnswer(value: Json | ExchangeAnswer): value is ExchangeAnswer {
	const answer = value as Partial<ExchangeAnswer> | null;
	const { stored, refused, entries, cursor, more, server_now } = answer ?? {};
	return (
		[stored, refused, entries].every(Array.isArray) &&
		typeof more === "boolean" &&
		typeof server_now === "string" &&
		isCursor(cursor)
	);
}

function isCursor(cursor: Partial<Cursor> | undefined): boolean {
	return (
		typeof cursor?.epoch === "string" &&
		typeof cursor.seq === "number" &&
		(typeof cursor.entry === "string" || cursor.seq === 0)
	);
}
