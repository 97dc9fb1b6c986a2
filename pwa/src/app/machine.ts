// The phone itself: clock, randomness, timers, locks between tabs. The only place that takes them.

import type { Clock, Ids, Lock, Shout, ShoutMessage, Timers } from "../sync/ports";

export const clock: Clock = {
	wall: () => Date.now(),
	offsetMinutes: (ms) => -new Date(ms).getTimezoneOffset(),
	zone: () => Intl.DateTimeFormat().resolvedOptions().timeZone || "UTC",
};

export const timers: Timers = {
	after(ms, work) {
		const handle = setTimeout(work, ms);
		return () => clearTimeout(handle);
	},
};

function hex(bytes: Uint8Array): string {
	return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

function random(count: number): Uint8Array<ArrayBuffer> {
	return crypto.getRandomValues(new Uint8Array(count));
}

export const ids: Ids = {
	/** RFC 9562, version 7. */
	uuid() {
		const bytes = random(16);
		const ms = Date.now().toString(16).padStart(12, "0");
		bytes[6] = 0x70 | ((bytes[6] ?? 0) & 0x0f);
		bytes[8] = 0x80 | ((bytes[8] ?? 0) & 0x3f);
		const rest = hex(bytes.subarray(6));
		return [ms.slice(0, 8), ms.slice(8), rest.slice(0, 4), rest.slice(4, 8), rest.slice(8)].join(
			"-",
		);
	},
	/** Drawn again where the remainder would favour small numbers. */
	draw(below) {
		const limit = 2 ** 32 - (2 ** 32 % below);
		for (;;) {
			const [n = 0] = crypto.getRandomValues(new Uint32Array(1));
			if (n < limit) return n % below;
		}
	},
	node: () => hex(random(8)),
};

export const lock: Lock = {
	async hold(name, work) {
		if (!navigator.locks) return work();
		return navigator.locks.request(name, { ifAvailable: true }, (held) =>
			held ? work() : undefined,
		);
	},
};

export function shoutThrough(name: string): Shout {
	if (typeof BroadcastChannel === "undefined")
		return { tell: () => undefined, heard: () => () => undefined };
	const channel = new BroadcastChannel(name);
	return {
		tell: (message) => channel.postMessage(message),
		heard(listener) {
			const hear = ({ data }: MessageEvent<ShoutMessage>) => listener(data);
			channel.addEventListener("message", hear);
			return () => channel.removeEventListener("message", hear);
		},
	};
}

/** Lets the screen be drawn between two pieces of work. */
export function breathe(): Promise<void> {
	return new Promise((resolve) => {
		setTimeout(resolve, 0);
	});
}
