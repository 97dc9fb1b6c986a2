// Photos on the phone: thumbnail and full size in pieces, as ArrayBuffers beside the entries.

import { Dexie } from "dexie";
import type { PhotoNamed } from "../sync/ports";
import type { Unit } from "./unit";
import type { ChunkRow, PhotoRow, Vault } from "./vault";

/** Also the size of one upload. */
export const PIECE_BYTES = 256 * 1024;

export class PhotoStore {
	constructor(
		private readonly vault: Vault,
		private readonly unit: Unit,
	) {}

	/** A picture just taken: kept as a draft until an entry names it. The same picture twice is one. */
	keepDraft(
		photo: PhotoNamed,
		bytes: ArrayBuffer,
		thumb: ArrayBuffer | null,
		taken: number,
	): Promise<void> {
		return this.put({ ...photo, thumb, taken, state: "draft" }, bytes);
	}

	/** A picture of somebody else, fetched: it is on the server and may be dropped again. */
	keepFetched(
		photo: PhotoNamed,
		bytes: ArrayBuffer,
		thumb: ArrayBuffer | null,
		at: number,
	): Promise<void> {
		return this.put({ ...photo, thumb, taken: at, state: "server" }, bytes);
	}

	get(sha256: string): Promise<PhotoRow | undefined> {
		return this.unit.read(() => this.vault.photos.get(sha256));
	}

	/** The whole picture, or null when only its thumbnail is here. */
	full(sha256: string): Promise<ArrayBuffer | null> {
		return this.unit.read(async () => {
			const chunks = await this.chunks(sha256).toArray();
			return chunks.length ? joined(chunks) : null;
		});
	}

	/** Full sizes whose copy is in a verified backup make room; thumbnails stay. */
	dropFull(hashes: string[]): Promise<void> {
		const { photos, chunks } = this.vault;
		return this.unit.write([photos, chunks], async () => {
			for (const sha256 of hashes) {
				if ((await photos.get(sha256))?.state !== "server") continue;
				await this.chunks(sha256).delete();
				await photos.update(sha256, { state: "dropped" });
			}
		});
	}

	/** Pictures that were taken but never saved with anything. */
	dropDraftsBefore(taken: number): Promise<void> {
		const { photos, chunks } = this.vault;
		return this.unit.write([photos, chunks], async () => {
			const old = photos
				.where("state")
				.equals("draft")
				.filter((row) => row.taken < taken);
			for (const { sha256 } of await old.toArray()) {
				await this.chunks(sha256).delete();
				await photos.delete(sha256);
			}
		});
	}

	private put(row: PhotoRow, bytes: ArrayBuffer): Promise<void> {
		const { photos, chunks } = this.vault;
		const pieces = cut(row.sha256, bytes);
		return this.unit.write([photos, chunks], async () => {
			const known = await photos.get(row.sha256);
			await chunks.bulkPut(pieces);
			await photos.put(known && known.state !== "dropped" ? known : row);
		});
	}

	private chunks(sha256: string) {
		return this.vault.chunks
			.where("[sha256+idx]")
			.between([sha256, Dexie.minKey], [sha256, Dexie.maxKey]);
	}
}

function cut(sha256: string, bytes: ArrayBuffer): ChunkRow[] {
	const pieces: ChunkRow[] = [];
	for (let from = 0; from < bytes.byteLength || from === 0; from += PIECE_BYTES)
		pieces.push({ sha256, idx: pieces.length, bytes: bytes.slice(from, from + PIECE_BYTES) });
	return pieces;
}

function joined(chunks: ChunkRow[]): ArrayBuffer {
	const size = chunks.reduce((sum, { bytes }) => sum + bytes.byteLength, 0);
	const all = new Uint8Array(size);
	let at = 0;
	for (const { bytes } of chunks) {
		all.set(new Uint8Array(bytes), at);
		at += bytes.byteLength;
	}
	return all.buffer;
}
