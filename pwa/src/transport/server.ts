// The server's calls, as sync/ports.ts wants them.

import type {
	Account,
	Answer,
	DigestAnswer,
	ExchangeAnswer,
	ExchangeRequest,
	Id,
	JoinAnswer,
	JoinRequest,
	Json,
	MeAnswer,
	PhotoNamed,
	Transport,
} from "../sync/ports";
import { type Http, refused } from "./http";

type Offset = { offset: number; complete: boolean };

export class Server implements Transport, Account {
	constructor(private readonly http: Http) {}

	exchange(logbook: Id, request: ExchangeRequest): Promise<Answer<ExchangeAnswer>> {
		return this.http.json({ method: "POST", path: `/logbooks/${logbook}/exchange`, json: request });
	}

	digest(logbook: Id, ids: Id[], photos: string[]): Promise<Answer<DigestAnswer>> {
		const json = { ids, photos };
		return this.http.json({ method: "POST", path: `/logbooks/${logbook}/digest`, json });
	}

	join(request: JoinRequest): Promise<Answer<JoinAnswer>> {
		return this.http.json({ method: "POST", path: "/devices", json: request });
	}

	me(): Promise<Answer<MeAnswer>> {
		return this.http.json({ method: "GET", path: "/me" });
	}

	call<T>(method: string, path: string, body?: Json): Promise<Answer<T>> {
		return this.http.json({ method, path, ...(body === undefined ? {} : { json: body }) });
	}

	async photoOffset(logbook: Id, sha256: string): Promise<Answer<Offset>> {
		const response = await this.http.send({ method: "HEAD", path: photoPath(logbook, sha256) });
		const offset = response && offsetOf(response);
		if (!response || (response.ok && !offset)) return lost();
		// The answer to HEAD has no body, so that a 404 is told from a stranger's by nothing more.
		return offset ? found(response, offset) : refused(response.status, null);
	}

	async photoPut(
		logbook: Id,
		photo: PhotoNamed,
		at: number,
		piece: ArrayBuffer,
	): Promise<Answer<Offset & { matched: boolean }>> {
		const whole = at + piece.byteLength >= photo.bytes;
		const response = await this.http.send({
			method: "PUT",
			path: photoPath(logbook, photo.sha256),
			bytes: piece,
			headers: {
				"Content-Type": "application/octet-stream",
				"Upload-Offset": String(at),
				"Upload-Length": String(photo.bytes),
				"Upload-Complete": whole ? "?1" : "?0",
			},
		});
		if (!response) return lost();
		const offset = offsetOf(response);
		if (response.status === 409 && offset) return found(response, { ...offset, matched: false });
		if (!response.ok) return refused(response.status, null);
		if (response.status === 201)
			return found(response, { offset: photo.bytes, complete: true, matched: true });
		return offset ? found(response, { ...offset, matched: true }) : lost();
	}

	async photoGet(logbook: Id, sha256: string): Promise<Answer<ArrayBuffer>> {
		const response = await this.http.send({ method: "GET", path: photoPath(logbook, sha256) });
		if (!response) return lost();
		if (!response.ok) return refused(response.status, null);
		try {
			return found(response, await response.arrayBuffer());
		} catch {
			return lost();
		}
	}
}

function photoPath(logbook: Id, sha256: string): string {
	return `/logbooks/${logbook}/photos/${sha256}`;
}

function offsetOf(response: Response): Offset | null {
	const offset = Number(response.headers.get("Upload-Offset") ?? Number.NaN);
	if (!Number.isSafeInteger(offset)) return null;
	return { offset, complete: response.headers.get("Upload-Complete") === "?1" };
}

function found<T>({ status }: Response, value: T): Answer<T> {
	return { ok: true, status, value, roundTripMs: 0 };
}

function lost(): Answer<never> {
	return { ok: false, status: null, code: null, body: null };
}
