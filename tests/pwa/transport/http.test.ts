import { expect, test } from "vitest";
import type { ExchangeRequest } from "../../../pwa/src/sync/ports";
import { Http } from "../../../pwa/src/transport/http";
import { Server } from "../../../pwa/src/transport/server";

const LOGBOOK = "019de28d-3c00-7000-8000-0000000000aa";
const HASH = "a".repeat(64);
const photo = { sha256: HASH, bytes: 10, type: "image/jpeg", w: 1, h: 1 };

interface Seen {
	path: string;
	init: RequestInit;
}

/** A network whose one answer is given; what was asked is kept. */
function answering(answer: () => Response): { server: Server; seen: Seen[] } {
	const seen: Seen[] = [];
	const fetch = async (path: unknown, init: RequestInit = {}) => {
		seen.push({ path: String(path), init });
		return answer();
	};
	let now = 0;
	const ticks = () => ++now;
	const limit = () => new AbortController().signal;
	return { server: new Server(new Http({ fetch, ticks, limit })), seen };
}

const json = (value: unknown, status = 200, headers = {}) =>
	new Response(JSON.stringify(value), {
		status,
		headers: { "Content-Type": "application/json", ...headers },
	});

function request(notes: number): ExchangeRequest {
	const entry = {
		id: LOGBOOK,
		kind: "sori.seen",
		v: 1,
		about: LOGBOOK,
		at: "2026-05-01",
		made: "019de28d3c00-00000000-00000000000000a1",
		data: { ripeness: "ripe" },
	};
	const entries = Array.from({ length: notes }, () => entry);
	return {
		cursor: null,
		high: null,
		now: "",
		unsent: { count: 0, oldest: null },
		entries,
		limit: 9,
	};
}

test("a large exchange goes out packed and comes back as a value", async () => {
	const { server, seen } = answering(() => json({ stored: [] }));
	const answer = await server.exchange(LOGBOOK, request(30));
	expect(answer).toMatchObject({ ok: true, status: 200, value: { stored: [] }, roundTripMs: 1 });
	expect(seen[0]?.path).toBe(`/api/v1/logbooks/${LOGBOOK}/exchange`);
	expect(new Headers(seen[0]?.init.headers).get("Content-Encoding")).toBe("gzip");
	const stream = new Blob([seen[0]?.init.body as ArrayBuffer]).stream();
	const plain = await new Response(stream.pipeThrough(new DecompressionStream("gzip"))).json();
	expect(plain).toEqual(request(30));
});

test("a small one goes as it is", async () => {
	const { server, seen } = answering(() => json({}));
	await server.exchange(LOGBOOK, request(0));
	expect(new Headers(seen[0]?.init.headers).has("Content-Encoding")).toBe(false);
});

test("an error of the server keeps its code and its words", async () => {
	const { server } = answering(() => json({ code: "shut-out", message: "…" }, 401));
	const answer = await server.exchange(LOGBOOK, request(0));
	expect(answer).toEqual({
		ok: false,
		status: 401,
		code: "shut-out",
		body: { code: "shut-out", message: "…" },
	});
});

const unknown = { ok: false, status: null, code: null, body: null };

test.each([
	[
		"a captive portal's page",
		() => new Response("<html>", { headers: { "Content-Type": "text/html" } }),
	],
	["a proxy's page with an error", () => new Response("<html>", { status: 502 })],
	[
		"JSON that is cut short",
		() => new Response("{", { headers: { "Content-Type": "application/json" } }),
	],
	[
		"no signal",
		() => {
			throw new TypeError("Failed to fetch");
		},
	],
])("%s is not the server: nothing is known", async (_, answer) => {
	const { server } = answering(answer as () => Response);
	expect(await server.exchange(LOGBOOK, request(0))).toEqual(unknown);
	expect(await server.me()).toEqual(unknown);
});

test("a page in place of an offset is no offset", async () => {
	const page = () => new Response("<html>", { headers: { "Content-Type": "text/html" } });
	const transport = answering(page).server;
	expect(await transport.photoOffset(LOGBOOK, HASH)).toEqual(unknown);
	expect(await transport.photoPut(LOGBOOK, photo, 0, new ArrayBuffer(10))).toEqual(unknown);
});

test("a photo that the server does not have is told apart from no signal", async () => {
	const { server } = answering(() => new Response(null, { status: 404 }));
	expect(await server.photoOffset(LOGBOOK, HASH)).toMatchObject({ ok: false, status: 404 });
});

test("the last piece says so, an earlier one says that more comes", async () => {
	const headers = { "Upload-Offset": "10", "Upload-Complete": "?1" };
	const { server, seen } = answering(() => new Response(null, { status: 201, headers }));
	const transport = server;
	const last = await transport.photoPut(LOGBOOK, photo, 4, new ArrayBuffer(6));
	await transport.photoPut(LOGBOOK, photo, 0, new ArrayBuffer(4));
	expect(last).toMatchObject({ ok: true, value: { offset: 10, complete: true, matched: true } });
	const said = seen.map(({ init }) => new Headers(init.headers));
	expect(said.map((one) => one.get("Upload-Complete"))).toEqual(["?1", "?0"]);
	expect(said.map((one) => one.get("Upload-Offset"))).toEqual(["4", "0"]);
});

test("a piece that does not follow learns the true offset", async () => {
	const { server } = answering(() => json({ code: "wrong-offset" }, 409, { "Upload-Offset": "3" }));
	const answer = await server.photoPut(LOGBOOK, photo, 5, new ArrayBuffer(5));
	expect(answer).toMatchObject({ ok: true, value: { offset: 3, matched: false } });
});
