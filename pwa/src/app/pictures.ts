// Pictures: scaled down and freed of metadata when taken, named by the hash of what is left.

import type { PhotoFile, PhotoNamed, TakenPhoto } from "../records/desk";
import type { PhotoStore } from "../storage/photo-store";
import { PhoneError, type PhoneOwner, type Transport } from "../sync/ports";

const FULL_PX = 2048;
const FULL_QUALITY = 0.82;
const THUMB_PX = 320;
const THUMB_QUALITY = 0.7;

/** What an entry may call a picture. */
const KNOWN = new Set(["image/jpeg", "image/png", "image/webp"]);
const MOST_BYTES = 12 * 1024 * 1024;

interface Scaled {
	bytes: ArrayBuffer;
	w: number;
	h: number;
}

export class Pictures {
	private readonly urls = new Map<string, string>();

	constructor(
		private readonly store: PhotoStore,
		private readonly transport: Transport,
		private readonly owner: () => PhoneOwner | null,
		private readonly wall: () => number,
	) {}

	/** Kept as a draft at once: a killed tab loses no picture. */
	async take(file: PhotoFile): Promise<TakenPhoto> {
		const given = await file.arrayBuffer();
		const { photo, bytes, thumb } = await this.prepared(given, file.type || "image/jpeg");
		await this.store.keepDraft(photo, bytes, thumb, this.wall());
		return photo;
	}

	/** `photo`: as its entry names it, for one that has to be fetched. */
	async url(sha256: string, size: "thumb" | "full", photo?: PhotoNamed): Promise<string | null> {
		const key = `${size}:${sha256}`;
		const known = this.urls.get(key);
		if (known) return known;
		const bytes = await this.bytes(sha256, size, photo);
		if (!bytes) return null;
		const url = URL.createObjectURL(new Blob([bytes.data], { type: bytes.type }));
		this.urls.set(key, url);
		return url;
	}

	private async bytes(sha256: string, size: "thumb" | "full", photo?: PhotoNamed) {
		const row = await this.store.get(sha256);
		if (row?.thumb && size === "thumb") return { data: row.thumb, type: "image/jpeg" };
		const full = row ? await this.store.full(sha256) : null;
		if (full) return { data: full, type: row?.type ?? "image/jpeg" };
		return this.fetched(sha256, size, photo ?? row);
	}

	/** A picture of somebody else, or one whose full size was dropped here. */
	private async fetched(sha256: string, size: "thumb" | "full", photo: PhotoNamed | undefined) {
		const logbook = this.owner()?.logbook;
		if (!logbook || !photo) return null;
		const answer = await this.transport.photoGet(logbook.id, sha256);
		if (!answer.ok || (await hashOf(answer.value)) !== sha256) return null;
		const thumb = await scaled(answer.value, photo.type, THUMB_PX, THUMB_QUALITY).catch(() => null);
		const { bytes, type, w, h } = photo;
		const named = { sha256, bytes, type, w, h };
		// A full store still shows the picture; it is fetched again another time.
		await this.store
			.keepFetched(named, answer.value, thumb?.bytes ?? null, this.wall())
			.catch(() => undefined);
		const shown = size === "thumb" && thumb ? thumb.bytes : answer.value;
		return { data: shown, type: shown === answer.value ? type : "image/jpeg" };
	}

	/** A picture that this browser cannot read is kept as it came, without a thumbnail. */
	private async prepared(given: ArrayBuffer, type: string) {
		const full = await scaled(given, type, FULL_PX, FULL_QUALITY).catch(() => null);
		const thumb = full && (await scaled(given, type, THUMB_PX, THUMB_QUALITY).catch(() => null));
		const bytes = full?.bytes ?? given;
		if (bytes.byteLength > MOST_BYTES) throw new PhoneError("photo-too-large");
		const photo: PhotoNamed = {
			sha256: await hashOf(bytes),
			bytes: bytes.byteLength,
			type: !full && KNOWN.has(type) ? type : "image/jpeg",
			w: full?.w ?? 1,
			h: full?.h ?? 1,
		};
		return { photo, bytes, thumb: thumb?.bytes ?? null };
	}
}

async function hashOf(bytes: ArrayBuffer): Promise<string> {
	const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
	return [...digest].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Drawn anew, turned as it was held: no metadata of the camera is left. */
async function scaled(
	bytes: ArrayBuffer,
	type: string,
	most: number,
	quality: number,
): Promise<Scaled> {
	const picture = await createImageBitmap(new Blob([bytes], { type }));
	const scale = Math.min(1, most / Math.max(picture.width, picture.height));
	const w = Math.max(1, Math.round(picture.width * scale));
	const h = Math.max(1, Math.round(picture.height * scale));
	const canvas = document.createElement("canvas");
	canvas.width = w;
	canvas.height = h;
	canvas.getContext("2d")?.drawImage(picture, 0, 0, w, h);
	picture.close();
	const blob = await new Promise<Blob | null>((resolve) => {
		canvas.toBlob(resolve, "image/jpeg", quality);
	});
	if (!blob) throw new Error("the picture could not be drawn");
	return { bytes: await blob.arrayBuffer(), w, h };
}
