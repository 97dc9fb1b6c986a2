// The one place that calls the network. Every answer is a value; a lost connection throws nothing.

import type { Answer, Json } from "../sync/ports";

const TIMEOUT_MS = 30_000;
/** Below this, packing costs more bytes than it saves. */
const PACK_FROM = 1024;

export interface HttpNeeds {
	/** The browser's own where nothing else is given. */
	fetch?: typeof fetch;
	/** ms that only go forward, for round trips. */
	ticks(): number;
	/** Ends a request that takes too long. */
	limit?(ms: number): AbortSignal;
}

export interface Call {
	method: string;
	path: string;
	json?: Json | object;
	bytes?: ArrayBuffer;
	headers?: Record<string, string>;
}

const LOST = { ok: false, status: null, code: null, body: null } as const;

export class Http {
	constructor(
		private readonly needs: HttpNeeds,
		private readonly root = "/api/v1",
	) {}

	/** An answer with JSON; anything else (a captive portal's page) counts as no answer. */
	async json<T>(call: Call): Promise<Answer<T>> {
		const began = this.needs.ticks();
		const response = await this.send(call);
		if (!response) return LOST;
		const body = await jsonOf(response);
		if (body === undefined) return LOST;
		if (!response.ok) return refused(response.status, body);
		const roundTripMs = this.needs.ticks() - began;
		return { ok: true, value: body as T, status: response.status, roundTripMs };
	}

	/** The answer itself; null without a signal. */
	async send({ method, path, json, bytes, headers = {} }: Call): Promise<Response | null> {
		const { body, encoding } = await packed(json, bytes);
		const kind = json === undefined ? {} : { "Content-Type": "application/json" };
		try {
			const get = this.needs.fetch ?? ((...asked) => fetch(...asked));
			return await get(this.root + path, {
				method,
				headers: { Accept: "application/json", ...kind, ...encoding, ...headers },
				...(body === undefined ? {} : { body }),
				credentials: "same-origin",
				cache: "no-store",
				redirect: "error",
				signal: this.needs.limit?.(TIMEOUT_MS) ?? AbortSignal.timeout(TIMEOUT_MS),
			});
		} catch {
			return null;
		}
	}
}

export function refused(status: number, body: Json): Answer<never> & { ok: false } {
	const code = (body as { code?: unknown } | null)?.code;
	return { ok: false, status, code: typeof code === "string" ? code : null, body };
}

/** 204 has no body; JSON must say that it is JSON. undefined: not the server's words. */
async function jsonOf(response: Response): Promise<Json | undefined> {
	if (response.status === 204) return null;
	if (!response.headers.get("Content-Type")?.includes("json")) return undefined;
	try {
		return (await response.json()) as Json;
	} catch {
		return undefined;
	}
}

async function packed(
	json: Json | object | undefined,
	bytes: ArrayBuffer | undefined,
): Promise<{ body?: string | ArrayBuffer; encoding: Record<string, string> }> {
	if (bytes) return { body: bytes, encoding: {} };
	if (json === undefined) return { encoding: {} };
	const text = JSON.stringify(json);
	if (text.length < PACK_FROM || typeof CompressionStream === "undefined")
		return { body: text, encoding: {} };
	const stream = new Blob([text]).stream().pipeThrough(new CompressionStream("gzip"));
	return {
		body: await new Response(stream).arrayBuffer(),
		encoding: { "Content-Encoding": "gzip" },
	};
}
