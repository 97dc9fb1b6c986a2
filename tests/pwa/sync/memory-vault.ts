// The vault's promises in memory: every writing call is all or nothing. Held equal to the real vault by
// running the same story on both (see vault-twin.test.ts).

import type {
	Checking,
	Entry,
	ExchangeChange,
	Id,
	NumberState,
	PhoneOwner,
	PhotoNamed,
	PhotoState,
	Standing,
	Store,
	StoredEntry,
} from "../../../pwa/src/sync/ports";

const PIECE = 64;

export class MemoryVault implements Store {
	rows: StoredEntry[] = [];
	photos: (PhotoNamed & { state: PhotoState; content: number[] })[] = [];
	clock: string | null = null;
	private place: Standing = { cursor: null, high: null, checking: null };
	private taken: NumberState = { met: false, blocks: {}, last: {} };
	private death: (() => void) | null = null;

	constructor(private readonly who: PhoneOwner) {}

	save(entry: Entry): void {
		const beside = {
			seq: null,
			received: null,
			errors: [],
			vouched: false,
			via: null,
			checking: false,
		};
		this.rows.push({ id: entry.id, entry, state: "unsent", ...beside });
		this.clock = entry.made;
	}

	addPhoto(photo: PhotoNamed, content: number[]): void {
		this.photos.push({ ...photo, state: "here", content });
	}

	/** Resolves when the phone is killed in the middle of something. */
	untilDead(): Promise<void> {
		return new Promise((resolve) => {
			this.death = resolve;
		});
	}
	die(): void {
		this.death?.();
	}
	revive(): void {
		this.death = null;
	}

	standing = async () => structuredClone(this.place);
	owner = async () => this.who;
	numbers = async () => this.taken;
	newestOutlook = async () => 0;

	async outbox(limit: number, skip: ReadonlySet<Id>): Promise<StoredEntry[]> {
		const waiting = this.rows.filter(({ id, state }) => state === "unsent" && !skip.has(id));
		waiting.sort((a, b) =>
			a.entry.made < b.entry.made ? -1 : a.entry.made > b.entry.made ? 1 : a.id < b.id ? -1 : 1,
		);
		return structuredClone(waiting.slice(0, limit));
	}

	async unsent() {
		const made = (await this.outbox(1e9, new Set())).map(({ entry }) => entry.made);
		return { count: made.length, oldestMade: made[0] ?? null };
	}

	async applyExchange(change: ExchangeChange): Promise<Id[]> {
		const touched = new Set<Id>();
		const row = (id: Id) => this.rows.find((one) => one.id === id);
		for (const { id, seq, state, received } of change.verdicts) {
			const one = row(id);
			if (one) touched.add(Object.assign(one, { seq, state, received }).entry.about);
		}
		for (const { id } of change.refused) {
			const one = row(id);
			if (one?.seq === null) touched.add(Object.assign(one, { state: "refused" }).entry.about);
		}
		for (const {
			seq,
			received,
			state,
			vouched = false,
			via = null,
			errors = [],
			...entry
		} of change.lines) {
			const beside = { seq, received, state, vouched, via: via as string | null, errors };
			const one = row(entry.id);
			if (one) Object.assign(one, beside);
			else this.rows.push({ id: entry.id, entry: entry as Entry, ...beside, checking: false });
			touched.add(entry.about);
		}
		this.place = structuredClone({ cursor: change.cursor, high: change.high, checking: null });
		this.clock = change.moveClock(this.clock);
		return [...touched];
	}

	async beginChecking(): Promise<void> {
		this.place = {
			cursor: null,
			high: null,
			checking: { epoch: null, stage: "entries", after: "" },
		};
	}

	async idsToCheck(after: string, limit: number): Promise<Id[]> {
		const ids = this.rows.filter(({ id, seq }) => seq !== null && id > after).map(({ id }) => id);
		return ids.sort().slice(0, limit);
	}

	async photosToCheck(after: string, limit: number): Promise<string[]> {
		const sent = this.photos.filter(({ state, sha256 }) => state !== "here" && sha256 > after);
		return sent
			.map(({ sha256 }) => sha256)
			.sort()
			.slice(0, limit);
	}

	async settleChecked(lacks: Id[], lacksPhotos: string[], next: Checking): Promise<Id[]> {
		const lacking = this.rows.filter(({ id }) => lacks.includes(id));
		for (const row of lacking) Object.assign(row, { seq: null, state: "unsent" });
		for (const photo of this.photos) if (lacksPhotos.includes(photo.sha256)) photo.state = "here";
		this.place = { ...this.place, checking: structuredClone(next) };
		return lacking.map(({ entry }) => entry.about);
	}

	waitingPhotos = async () =>
		this.photos.filter(({ state }) => state === "here" || state === "uploading");

	async photoPiece(sha256: string, offset: number): Promise<ArrayBuffer | null> {
		const content = this.photos.find((photo) => photo.sha256 === sha256)?.content ?? [];
		const end = (Math.floor(offset / PIECE) + 1) * PIECE;
		const piece = content.slice(offset, end);
		return piece.length ? new Uint8Array(piece).buffer : null;
	}

	async setPhotoState(sha256: string, state: PhotoState): Promise<void> {
		for (const photo of this.photos) if (photo.sha256 === sha256) photo.state = state;
	}
}
