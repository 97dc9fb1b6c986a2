// Watches the position quietly, for as long as somebody wants it; nothing ever waits for it.

import { type Signal, signal } from "@preact/signals";
import type { PositionState } from "../records/desk";
import type { Fix } from "../records/verb-inputs";

/** A fix older than this is no longer where the person stands. */
const FRESH_MS = 60_000;
/** What comes within this time after saving is added to what was saved. */
export const LATER_MS = 120_000;

export class Position {
	readonly signal: Signal<{ state: PositionState; fix: Fix | null }> = signal({
		state: "off",
		fix: null,
	});
	private watchers = 0;
	private watch: number | null = null;
	private takenMs = 0;
	private readonly waiting = new Set<(fix: Fix | null) => void>();

	/** `at`: local time text of an instant. */
	constructor(private readonly at: (ms: number) => string) {}

	/** Until the last one stops. */
	start(): () => void {
		this.watchers++;
		this.begin();
		let stopped = false;
		return () => {
			if (stopped) return;
			stopped = true;
			this.watchers--;
			this.end();
		};
	}

	current(): Fix | null {
		const { fix } = this.signal.value;
		return fix && Date.now() - this.takenMs < FRESH_MS ? fix : null;
	}

	/** The next fix within two minutes; null when none comes, or nobody ever asked for one. */
	later(): Promise<Fix | null> {
		if (this.watch === null) return Promise.resolve(null);
		const stop = this.start();
		return new Promise((resolve) => {
			const settle = (fix: Fix | null) => {
				clearTimeout(timer);
				this.waiting.delete(settle);
				stop();
				resolve(fix);
			};
			const timer = setTimeout(settle, LATER_MS, null);
			this.waiting.add(settle);
		});
	}

	private begin(): void {
		if (this.watch !== null) return;
		if (!navigator.geolocation) {
			this.signal.value = { state: "unavailable", fix: null };
			return;
		}
		this.signal.value = { state: "waiting", fix: this.current() };
		this.watch = navigator.geolocation.watchPosition(
			(position) => this.found(position),
			({ code }) => this.missed(code),
			{ enableHighAccuracy: true, maximumAge: 30_000 },
		);
	}

	private end(): void {
		if (this.watchers > 0 || this.watch === null) return;
		navigator.geolocation.clearWatch(this.watch);
		this.watch = null;
		this.signal.value = { state: "off", fix: this.signal.value.fix };
	}

	private found({ coords, timestamp }: GeolocationPosition): void {
		const fix: Fix = {
			lat_e7: Math.round(coords.latitude * 1e7),
			lon_e7: Math.round(coords.longitude * 1e7),
			uncertainty_m: Math.max(1, Math.ceil(coords.accuracy)),
			at: this.at(timestamp),
			source: "phone",
		};
		this.takenMs = Date.now();
		this.signal.value = { state: "here", fix };
		for (const settle of [...this.waiting]) settle(fix);
	}

	private missed(code: number): void {
		const refused = code === 1;
		this.signal.value = { state: refused ? "refused" : "waiting", fix: this.current() };
		if (refused) for (const settle of [...this.waiting]) settle(null);
	}
}
