// One HTTP call to the own server, with a time limit, gzip both ways, and no way to throw.

import type { Answer, Json } from "../sync/ports";

export interface Call {
	method: "GET" | "HEAD" | "POST" | "PUT" | "PATCH" | "DELETE";
	path: string;
	json?: unknown;
	bytes?: ArrayBuffer;
	headers?: Record<string, string>;
	/** What the answer must be; anything else is not the server's. */
	expects: "json" | "bytes" | "nothing";
	/** Statuses besides 2xx whose answer is a value too. */
	also?: number[];
}

/** What the network gives; injected, so that tests are the server. */
export interface Network {
	fetch(path: string, init: RequestInit): Promise<Response>;
	/** ms that only grow. */
	ticks(): number;
	/** A signal that aborts after so many ms. */
	limit(ms: number): AbortSignal;
}

export interface Heard<T> {
	value: T;
	headers: Headers;
}

const WORTH_PACKING = 1024;
const ORDINARY_MS = 30_000;
const BYTES_MS = 120_000;

/** status null = nothing that can be this server's answer came: keep all, try later. */
export async function call<T>(network: Network, asked: Call): Promise<Answer<Heard<T>>> {
	const began = network.ticks();
	try {
		const response = await network.fetch(asked.path, await requestOf(network, asked));
		if (!response.ok && !asked.also?.includes(response.status)) {
			return await refusal(response, asked);
		}
		const value = (await readAs(response, asked)) as T;
		const roundTripMs = network.ticks() - began;
		return {
			ok: true,
			value: { value, headers: response.headers },
			status: response.status,
			roundTripMs,
		};
	} catch {
		return { ok: false, status: null, code: null, body: null };
	}
}

async function requestOf(network: Network, asked: Call): Promise<RequestInit> {
	const headers: Record<string, string> = { ...asked.headers };
	const moving = asked.bytes !== undefined || asked.expects === "bytes";
	const init: RequestInit = {
		method: asked.method,
		headers,
		credentials: "same-origin",
		cache: "no-store",
		redirect: "error",
		signal: network.limit(moving ? BYTES_MS : ORDINARY_MS),
	};
	if (asked.bytes !== undefined) return { ...init, body: asked.bytes };
	if (asked.json === undefined) return init;
	headers["Content-Type"] = "application/json";
	return { ...init, body: await packed(JSON.stringify(asked.json), headers) };
}

/** gzip where it is worth it and the browser can. */
async function packed(text: string, headers: Record<string, string>): Promise<BodyInit> {
	if (text.length < WORTH_PACKING || typeof CompressionStream === "undefined") return text;
	const stream = new Blob([text]).stream().pipeThrough(new CompressionStream("gzip"));
	headers["Content-Encoding"] = "gzip";
	return new Response(stream).arrayBuffer();
}

/** Throws where the answer is not of the kind that was asked for: then it is not the server's. */
async function readAs(response: Response, asked: Call): Promise<unknown> {
	if (asked.expects === "bytes" && isPage(response)) throw new TypeError("a page, not a photo");
	if (asked.expects === "bytes") return response.arrayBuffer();
	if (asked.expects === "json" && response.status !== 204) return jsonOf(response);
	return null;
}

async function refusal<T>(response: Response, asked: Call): Promise<Answer<T>> {
	if (asked.method === "HEAD")
		return { ok: false, status: response.status, code: null, body: null };
	const body = (await jsonOf(response)) as Json;
	const code = typeof body === "object" && body !== null && "code" in body ? body.code : null;
	return { ok: false, status: response.status, code: typeof code === "string" ? code : null, body };
}

function isPage(response: Response): boolean {
	return response.headers.get("Content-Type")?.startsWith("text/html") ?? false;
}

async function jsonOf(response: Response): Promise<unknown> {
	if (!response.headers.get("Content-Type")?.startsWith("application/json")) {
		throw new TypeError("not JSON");
	}
	return response.json();
}
