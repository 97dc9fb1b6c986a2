// The service worker: registered once, looked for a newer one now and then, put to use when no form is open.

const HOUR_MS = 3_600_000;

export interface UpdateEvents {
	/** A newer version waits to be used. */
	ready(): void;
	/** The server may have something (a notice came). */
	exchange(): void;
	/** A notice was tapped. */
	open(path: string): void;
}

interface Policy {
	createScriptURL(url: string): string;
}

/** With trusted types a script's address must come from the policy `app`; only the worker's may. */
function workerAddress(): string {
	const factory = (
		globalThis as { trustedTypes?: { createPolicy(name: string, rules: Policy): Policy } }
	).trustedTypes;
	const policy = factory?.createPolicy("app", {
		createScriptURL(url) {
			if (url !== "/sw.js") throw new TypeError("not a script of this app");
			return url;
		},
	});
	return policy?.createScriptURL("/sw.js") ?? "/sw.js";
}

export class Updates {
	private registration: ServiceWorkerRegistration | null = null;
	private asked = false;
	private lookedMs = 0;

	async begin(events: UpdateEvents): Promise<void> {
		if (!("serviceWorker" in navigator)) return;
		navigator.serviceWorker.addEventListener("message", ({ data }) => {
			if (data?.type === "exchange") events.exchange();
			if (data?.type === "open" && typeof data.path === "string") events.open(data.path);
		});
		const hadOne = navigator.serviceWorker.controller !== null;
		navigator.serviceWorker.addEventListener("controllerchange", () => {
			if (this.asked && hadOne) location.reload();
		});
		this.lookedMs = Date.now();
		const registration = await navigator.serviceWorker.register(workerAddress(), { scope: "/" });
		this.registration = registration;
		const told = () => {
			if (registration.waiting && navigator.serviceWorker.controller) events.ready();
		};
		told();
		registration.addEventListener("updatefound", () => {
			registration.installing?.addEventListener("statechange", told);
		});
	}

	/** An installed app can stay open for weeks. */
	look(): void {
		if (Date.now() - this.lookedMs < HOUR_MS) return;
		this.lookedMs = Date.now();
		this.registration?.update().catch(() => undefined);
	}

	get waits(): boolean {
		return this.registration?.waiting != null;
	}

	/** The page is loaded anew as soon as the newer worker has taken over. */
	apply(): void {
		this.asked = true;
		this.registration?.waiting?.postMessage({ type: "apply-update" });
	}
}
