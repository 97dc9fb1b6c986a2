// Everything that exists only on this phone, as one file that needs no server.

import type { ExportFile } from "../records/desk";
import type { Storage } from "../storage/storage";
import type { PhoneOwner } from "../sync/ports";

export async function onlyHereFile(
	{ records, exchange, photos }: Storage,
	owner: PhoneOwner | null,
	now: string,
): Promise<ExportFile> {
	const unsent = await records.unsentEntries();
	const refused = (await records.attention()).filter(({ state }) => state === "refused");
	const pictures = [];
	for (const photo of await exchange.waitingPhotos()) {
		const bytes = await photos.full(photo.sha256);
		if (bytes) pictures.push({ ...photo, base64: base64(bytes) });
	}
	const content = {
		format: "sporeline-only-here",
		version: 1,
		made: now,
		...{ person: owner?.person, device: owner?.device, logbook: owner?.logbook?.id },
		entries: [...unsent, ...refused].map(({ entry, received }) =>
			received === null ? entry : { ...entry, received },
		),
		photos: pictures,
	};
	const name = `sporeline-${now.slice(0, 10)}.json`;
	return { name, type: "application/json", text: JSON.stringify(content) };
}

function base64(bytes: ArrayBuffer): string {
	const view = new Uint8Array(bytes);
	let text = "";
	for (let i = 0; i < view.length; i += 0x8000)
		text += String.fromCharCode(...view.subarray(i, i + 0x8000));
	return btoa(text);
}
