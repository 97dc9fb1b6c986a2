// Photos go out after the entries, one after the other, in pieces that can be taken up again.

import type { PhoneOwner, PhotoNamed, Store, Transport } from "./ports";

/** A photo that the server found spoilt is sent anew so often. */
const TRIES = 2;
/** More answers than any photo has pieces: the server is not making sense. */
const MOST_PIECES = 200;

type Sent = "sent" | "spoilt" | "later";

export class PhotoQueue {
	/** Photos whose bytes never matched their hash; tried again at the next start. */
	private readonly aside = new Set<string>();

	constructor(
		private readonly store: Store,
		private readonly transport: Transport,
	) {}

	/** false: could not go on now. */
	async run(owner: PhoneOwner, changed: () => Promise<void>): Promise<boolean> {
		if (!owner.logbook) return true;
		for (const photo of await this.store.waitingPhotos()) {
			if (this.aside.has(photo.sha256)) continue;
			if (!(await this.send(owner.logbook.id, photo))) return false;
			await changed();
		}
		return true;
	}

	private async send(logbook: string, photo: PhotoNamed): Promise<boolean> {
		await this.store.setPhotoState(photo.sha256, "uploading");
		for (let tries = 0; tries < TRIES; tries++) {
			const sent = await this.sendOnce(logbook, photo);
			if (sent === "later") return false;
			if (sent === "sent") {
				await this.store.setPhotoState(photo.sha256, "server");
				return true;
			}
		}
		this.aside.add(photo.sha256);
		return true;
	}

	private async sendOnce(logbook: string, photo: PhotoNamed): Promise<Sent> {
		const there = await this.transport.photoOffset(logbook, photo.sha256);
		if (!there.ok && there.status !== 404) return "later";
		let { offset, complete } = there.ok ? there.value : { offset: 0, complete: false };
		for (let pieces = 0; !complete; pieces++) {
			const piece = await this.store.photoPiece(photo.sha256, offset);
			if (!piece || pieces > MOST_PIECES) return "spoilt";
			const answer = await this.transport.photoPut(logbook, photo, offset, piece);
			if (!answer.ok) return answer.status === 422 ? "spoilt" : "later";
			({ offset, complete } = answer.value);
		}
		return "sent";
	}
}
