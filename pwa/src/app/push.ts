// Web push: a subscription of this browser, told to the server again at every start.

import { type Signal, signal } from "@preact/signals";
import type { PushState } from "../records/desk";
import { faultOf } from "../records/verbs/people";
import type { Storage } from "../storage/storage";
import { type Account, PhoneError } from "../sync/ports";

/** Some browsers never settle a subscription. */
const SUBSCRIBE_MS = 20_000;
const MINE = "/devices/me/push";

export class Push {
	readonly state: Signal<PushState> = signal(possible() ? "off" : missing());
	/** The server's public key; fetched ahead, because a tap may not wait for it. */
	private key: string | null = null;

	constructor(
		private readonly account: Account,
		private readonly kept: Storage["push"],
	) {}

	/** After a start with a signal: what was on stays on, with a new subscription where one is needed. */
	async resume(): Promise<void> {
		if (!possible()) return;
		await this.fetchKey();
		if (Notification.permission === "denied") this.state.value = "refused";
		const before = await this.kept.read();
		if (!before || !this.key || Notification.permission !== "granted") return;
		const said = await this.account.call<{ state: string }>("GET", MINE);
		if (!said.ok) return;
		const renewed = said.value.state === "renew" || before.key !== this.key;
		await this.subscribe(renewed).catch(() => {
			this.state.value = "off";
		});
	}

	/** Straight from a tap. */
	async turnOn(): Promise<void> {
		if (!possible()) throw new PhoneError("push-unsupported");
		this.state.value = "working";
		try {
			const asked = await Notification.requestPermission();
			if (asked !== "granted") throw new PhoneError("push-refused");
			if (!this.key) await this.fetchKey();
			await this.subscribe(false);
		} catch (error) {
			this.state.value = Notification.permission === "denied" ? "refused" : "off";
			throw error instanceof PhoneError ? error : new PhoneError("push-failed", { cause: error });
		}
	}

	async turnOff(): Promise<void> {
		const answer = await this.account.call("DELETE", MINE);
		if (!answer.ok) throw faultOf(answer);
		await this.kept.write(null);
		const there = await (await registration()).pushManager.getSubscription();
		await there?.unsubscribe();
		this.state.value = "off";
	}

	private async fetchKey(): Promise<void> {
		const answer = await this.account.call<{ key: string | null }>("GET", "/push/key");
		if (answer.ok) this.key = answer.value.key;
	}

	private async subscribe(renew: boolean): Promise<void> {
		const { key } = this;
		if (!key) throw new PhoneError("push-not-offered");
		const { pushManager } = await registration();
		const before = await pushManager.getSubscription();
		if (renew) await before?.unsubscribe();
		const subscription = await within(
			SUBSCRIBE_MS,
			pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: key }),
		);
		const { endpoint, keys } = subscription.toJSON();
		if (!endpoint || !keys) throw new PhoneError("push-failed");
		const { p256dh = "", auth = "" } = keys;
		const answer = await this.account.call("PUT", MINE, { endpoint, keys: { p256dh, auth }, key });
		if (!answer.ok) throw faultOf(answer);
		await this.kept.write({ endpoint, key });
		this.state.value = "on";
	}
}

function possible(): boolean {
	return "serviceWorker" in navigator && "PushManager" in window && "Notification" in window;
}

/** On some phones only an installed app may show notices. */
function missing(): PushState {
	const phone = /iPhone|iPad/.test(navigator.userAgent);
	const installed = matchMedia("(display-mode: standalone)").matches;
	return phone && !installed ? "install-first" : "unsupported";
}

function registration(): Promise<ServiceWorkerRegistration> {
	return navigator.serviceWorker.ready;
}

function within<T>(ms: number, work: Promise<T>): Promise<T> {
	return new Promise((resolve, reject) => {
		const timer = setTimeout(() => reject(new PhoneError("push-failed")), ms);
		work.then(resolve, reject).finally(() => clearTimeout(timer));
	});
}
