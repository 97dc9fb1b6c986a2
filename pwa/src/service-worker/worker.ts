// The service worker: files for a start with no signal, and notices.

import { clientsClaim } from "workbox-core";
import {
	cleanupOutdatedCaches,
	createHandlerBoundToURL,
	type PrecacheEntry,
	precacheAndRoute,
} from "workbox-precaching";
import { NavigationRoute, registerRoute } from "workbox-routing";
import { answeredHere } from "./answered-here";
import { alreadyNoted, noticeOf, taskOf } from "./notice";

declare const self: ServiceWorkerGlobalScope & {
	__WB_MANIFEST: (PrecacheEntry | string)[];
};

/** How long a notice may wait for word from the vault: not noticed by a person. */
const VAULT_MS = 300;
/** The server's own addresses, and files, never get the app's page. */
const NOT_A_SCREEN = [/^\/api\//, /^\/calendar\//, /\/[^/]+\.[^/]+$/];

precacheAndRoute(self.__WB_MANIFEST);
cleanupOutdatedCaches();
registerRoute(
	new NavigationRoute(createHandlerBoundToURL("/index.html"), { denylist: NOT_A_SCREEN }),
);
// A first worker takes the open page over at once. A newer one waits until a person (or a cold
// start) says so: a page must never meet the files of another version halfway.
clientsClaim();

self.addEventListener("message", (event) => {
	if (event.data?.type === "apply-update") event.waitUntil(self.skipWaiting());
});

self.addEventListener("push", (event) => {
	event.waitUntil(Promise.all([showNotice(event.data?.text() ?? null), tellPages()]));
});

self.addEventListener("notificationclick", (event) => {
	event.notification.close();
	event.waitUntil(openAt(event.notification.data?.navigate ?? "/"));
});

async function showNotice(message: string | null): Promise<void> {
	const told = noticeOf(message);
	const notice = (await known(taskOf(told))) ? alreadyNoted(told) : told;
	await self.registration.showNotification(notice.title, {
		body: notice.body,
		tag: notice.tag,
		lang: notice.lang,
		icon: "/icon-192.png",
		data: { navigate: notice.navigate },
	});
}

async function known(task: string | null): Promise<boolean> {
	if (task === null) return false;
	const tooLate = new Promise<boolean>((resolve) => setTimeout(resolve, VAULT_MS, false));
	return Promise.race([answeredHere(self.indexedDB, task), tooLate]);
}

/** A push is also a hint that there is something to fetch. */
async function tellPages(): Promise<void> {
	for (const page of await self.clients.matchAll({ type: "window" })) {
		page.postMessage({ type: "exchange" });
	}
}

/** The open app goes there; a closed one is opened. */
async function openAt(path: string): Promise<void> {
	const [page] = await self.clients.matchAll({ type: "window" });
	if (page === undefined) {
		await self.clients.openWindow(path);
		return;
	}
	page.postMessage({ type: "open", path });
	await page.focus();
}
