/** The browser's offer to put the app on the home screen: kept until it is wanted, never pressed on anyone. */
import { signal } from "@preact/signals";

/** What Chromium browsers hand over when the page may be installed. */
interface InstallPrompt extends Event {
	prompt(): Promise<{ outcome: "accepted" | "dismissed" }>;
}

/** The offer at hand; null where the browser makes none (iPhones never do) or it has been used. */
export const installOffer = signal<InstallPrompt | null>(null);

/** An iPhone's Safari page, whose notes do not move into the app on the home screen. */
export function inSafariPage(): boolean {
	return "standalone" in navigator && navigator.standalone === false;
}

/** Listen for the offer; called once by the wiring, since it comes early. Returns the way to stop. */
export function followInstall(): () => void {
	const keep = (event: Event) => {
		event.preventDefault();
		installOffer.value = event as InstallPrompt;
	};
	const clear = () => {
		installOffer.value = null;
	};
	addEventListener("beforeinstallprompt", keep);
	addEventListener("appinstalled", clear);
	return () => {
		removeEventListener("beforeinstallprompt", keep);
		removeEventListener("appinstalled", clear);
	};
}

/** From a tap: show the browser's own question. */
export async function install(): Promise<boolean> {
	const offer = installOffer.peek();
	if (!offer) return false;
	installOffer.value = null;
	return (await offer.prompt()).outcome === "accepted";
}
