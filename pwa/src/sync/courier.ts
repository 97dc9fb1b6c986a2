// When to exchange: after saving, at the start, when the page is seen again, when a signal comes back,
// from time to time, and when the server says so. One at a time on a phone, whatever the tabs.

import { check } from "./checking";
import { Exchange, type Outcome } from "./exchange";
import { PhotoQueue } from "./photos";
import type { Clock, Id, Ids, Lock, PhoneOwner, Store, Timers, Transport } from "./ports";

/** Between two exchanges with nothing to say, while the page is seen; spread by a quarter. */
const REGULAR_MS = 60_000;
const FIRST_RETRY_MS = 5_000;
const LAST_RETRY_MS = 5 * 60_000;
/** Taps that follow one another go out together. */
const AFTER_SAVING_MS = 250;
const AFTER_OTHER_TAB_MS = 2_000;

export interface CourierNeeds {
	store: Store;
	transport: Transport;
	timers: Timers;
	clock: Clock;
	ids: Ids;
	lock: Lock;
	/** Records are touched; resolves when they are folded. */
	arrived(records: Id[]): Promise<void>;
	/** What the safety corner shows may be different now. */
	told(status: CourierStatus): Promise<void>;
	/** The page is being looked at. */
	visible(): boolean;
	/** The phone's own store failed; all is still there, and it will be tried again. */
	failed(error: unknown): void;
}

export interface CourierStatus {
	exchanging: boolean;
	outcome: Outcome | null;
	/** Everything was sent and received at the last time; questions can be shown. */
	settled: boolean;
}

export class Courier {
	private readonly exchange: Exchange;
	private readonly photos: PhotoQueue;
	private running: Promise<void> | null = null;
	private again = false;
	private failures = 0;
	private planned: { at: number; cancel(): void } | null = null;
	private stopped = false;
	status: CourierStatus = { exchanging: false, outcome: null, settled: true };

	constructor(private readonly needs: CourierNeeds) {
		const { store, transport, clock, arrived } = needs;
		this.exchange = new Exchange({
			...{ store, transport, clock, arrived },
			check: (owner) => check(store, transport, owner),
		});
		this.photos = new PhotoQueue(store, transport);
	}

	/** Soon, after something was saved. */
	soon(): void {
		this.plan(AFTER_SAVING_MS, () => true);
	}

	/** Now; resolves when this exchange, or the one that was running and one more, has ended. */
	now(): Promise<void> {
		this.planned?.cancel();
		this.planned = null;
		if (this.running) {
			this.again = true;
			return this.running;
		}
		this.running = this.rounds().finally(() => {
			this.running = null;
			this.planNext();
		});
		return this.running;
	}

	stop(): void {
		this.stopped = true;
		this.planned?.cancel();
	}

	private async rounds(): Promise<void> {
		do {
			this.again = false;
			await this.round();
		} while (this.again && !this.stopped);
	}

	private async round(): Promise<void> {
		const owner = await this.needs.store.owner();
		if (!owner?.logbook || this.stopped) return;
		const held = await this.needs.lock.hold("exchange", () => this.locked(owner));
		// Another tab holds it and does the work; what it has just missed goes out a little later.
		if (!held) this.plan(AFTER_OTHER_TAB_MS, this.needs.visible);
	}

	private async locked(owner: PhoneOwner): Promise<true> {
		await this.tell({ ...this.status, exchanging: true, settled: false });
		let outcome: Outcome = "later";
		try {
			outcome = await this.exchange.run(owner);
			if (outcome === "done") outcome = await this.sendPhotos(owner);
		} catch (error) {
			this.needs.failed(error);
		}
		this.failures = outcome === "done" ? 0 : this.failures + 1;
		// With no signal, what this phone has is all there is: questions are shown.
		await this.tell({ exchanging: false, outcome, settled: true });
		return true;
	}

	private async sendPhotos(owner: PhoneOwner): Promise<Outcome> {
		await this.tell({ exchanging: true, outcome: "done", settled: true });
		return (await this.photos.run(owner, () => this.tell(this.status))) ? "done" : "later";
	}

	private tell(status: CourierStatus): Promise<void> {
		this.status = status;
		return this.needs.told(status);
	}

	private planNext(): void {
		const { outcome } = this.status;
		const barred = outcome === "shut-out" || outcome === "signed-out";
		const doubled = FIRST_RETRY_MS * 2 ** Math.min(10, Math.max(0, this.failures - 1));
		const retry = barred ? LAST_RETRY_MS : Math.min(LAST_RETRY_MS, doubled);
		this.plan(this.failures ? retry : REGULAR_MS, this.needs.visible);
	}

	/** The earlier of what is planned already and this; spread, so that phones do not come all at once. */
	private plan(ms: number, wanted: () => boolean): void {
		if (this.stopped) return;
		const now = this.needs.clock.wall();
		const spread = ms + Math.floor((ms * this.needs.ids.draw(256)) / 1024);
		const sooner = this.planned && this.planned.at > now && this.planned.at <= now + spread;
		if (sooner) return;
		this.planned?.cancel();
		const cancel = this.needs.timers.after(spread, () => {
			this.planned = null;
			if (wanted()) void this.now();
		});
		this.planned = { at: now + spread, cancel };
	}
}
