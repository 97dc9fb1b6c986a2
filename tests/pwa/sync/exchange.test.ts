// Single cases of the exchange, each told as a short story on the model server.

import { expect, test } from "vitest";
import { Exchange } from "../../../pwa/src/sync/exchange";
import type {
	Answer,
	ExchangeAnswer,
	ExchangeRequest,
	Transport,
} from "../../../pwa/src/sync/ports";
import { MemoryVault } from "./memory-vault";
import { type Action, type Fault, World } from "./world";

const write = (phone: number, how: "fact" | "held" | "describe" = "fact"): Action => ({
	...{ do: "write", phone, about: 0, how, pick: 0 },
});
const exchange = (phone: number, ...faults: Fault[]): Action => ({ do: "exchange", phone, faults });
const backUp: Action = { do: "back-up" };
const restore: Action = { do: "restore", byTool: true };

async function told(...actions: Action[]): Promise<World> {
	const world = new World(2, 1, 50);
	for (const one of actions) await world.play(one);
	return world;
}

const asked = (world: World, what: string) =>
	world.trace.filter((line) => line.includes(` ${what}`));
const lastRequest = (world: World): ExchangeRequest => {
	const line = asked(world, "exchange").at(-1) ?? "";
	return JSON.parse(line.slice(line.indexOf("{")));
};

test("an answer that was lost is asked for again, and nothing is counted twice", async () => {
	const world = await told(write(0), exchange(0, "answer-lost"), exchange(0), exchange(1));
	expect(world.server.lines.length).toBe(1);
	expect(world.phones.map(({ vault }) => vault.rows.map(({ seq }) => seq))).toEqual([[1], [1]]);
});

test("a page of somebody else's network changes nothing", async () => {
	const world = await told(write(0), exchange(0, "portal"));
	expect(world.phones[0]?.vault.rows).toMatchObject([{ state: "unsent", seq: null }]);
	expect(await world.phones[0]?.vault.standing()).toEqual({
		cursor: null,
		high: null,
		checking: null,
	});
});

test("after a restore a phone offers again what is lacking, with the time of its first receipt", async () => {
	const world = await told(backUp, write(0), exchange(0), restore, exchange(0));
	expect(world.server.lines.map(({ id }) => id)).toEqual(["P0-0000"]);
	expect(world.server.lines[0]?.received).toBe(world.phones[0]?.vault.rows[0]?.received);
	expect(asked(world, "digest 1").length).toBe(1);
	const again = asked(world, "exchange").map(
		(line) => JSON.parse(line.slice(line.indexOf("{"))) as ExchangeRequest,
	);
	expect(again.at(-1)?.entries).toMatchObject([{ id: "P0-0000", received: expect.any(Number) }]);
	expect(again.at(-1)).toMatchObject({ cursor: null, high: null });
});

/** The first copy is empty, the last one has all; a server "restored" on the way has the first. */
const twoCopies = [backUp, write(0), exchange(0), backUp, restore];

test("a server that goes back once more while it is asked is asked from the beginning", async () => {
	const world = await told(...twoCopies, exchange(0, "none", "none", "restored"));
	expect(asked(world, "digest 1").length).toBe(2);
	expect(world.server.lines.map(({ id }) => id)).toEqual(["P0-0000"]);
});

test("a server that goes back between the asking and the pull gets everything again", async () => {
	const world = await told(...twoCopies, exchange(0, "none", "none", "none", "none", "restored"));
	expect(asked(world, "digest 1").length).toBe(2);
	expect(world.server.lines.map(({ id }) => id)).toEqual(["P0-0000"]);
});

test("what the server holds is known as held, and goes to the other phone", async () => {
	const world = await told(write(0, "held"), exchange(0), exchange(1));
	for (const { vault } of world.phones) expect(vault.rows).toMatchObject([{ state: "held" }]);
});

test("numbers and the highest place ever told go along", async () => {
	const world = await told(write(0), exchange(0), write(1), exchange(1), exchange(0));
	expect(lastRequest(world)).toMatchObject({
		cursor: { seq: 1, entry: "P0-0000" },
		high: { seq: 1, entry: "P0-0000" },
		numbers: expect.arrayContaining([{ series: "box", left: 0 }]),
	});
});

/** A server of one answer after the other. */
function scripted(answers: ((request: ExchangeRequest) => Answer<ExchangeAnswer>)[]) {
	const requests: ExchangeRequest[] = [];
	const transport = {
		exchange: async (_: string, request: ExchangeRequest) => {
			requests.push(request);
			return (answers.shift() ?? (() => refusal(503)))(request);
		},
	} as unknown as Transport;
	return { transport, requests };
}

const refusal = (status: number, code: string | null = null): Answer<ExchangeAnswer> => ({
	...{ ok: false, status, code, body: null },
});
const accept = ({ entries }: ExchangeRequest): Answer<ExchangeAnswer> => ({
	ok: true,
	status: 200,
	roundTripMs: 0,
	value: {
		stored: entries.map(({ id }, i) => ({ id, seq: i + 1, state: "stored", received: 1 })),
		refused: [],
		entries: [],
		cursor: { epoch: "E", seq: entries.length, entry: entries.at(-1)?.id ?? null },
		more: false,
		server_now: "2026-05-01T08:00:00Z",
		backed_up: null,
		outlooks: [],
		numbers: [],
	},
});

function phoneWith(count: number, answers: Parameters<typeof scripted>[0]) {
	const owner = { person: "P", name: "", initials: "PP", device: "D", deviceLabel: "", role: null };
	const logbook = { id: "L", name: "" };
	const vault = new MemoryVault({ ...owner, logbook });
	for (let i = 0; i < count; i++) {
		const made = `019de9d8e900-${String(i).padStart(8, "0")}-00000000000000a1`;
		vault.save({
			id: `e${i}`,
			kind: "sori.seen",
			v: 1,
			about: "R",
			at: "2026-05-01",
			made,
			data: { ripeness: "ripe" },
		});
	}
	const { transport, requests } = scripted(answers);
	const wall = () => Date.parse("2026-05-01T09:00:00Z");
	const clock = { wall, offsetMinutes: () => 0, zone: () => "UTC" };
	const arrived = async () => undefined;
	const loop = new Exchange({
		store: vault,
		transport,
		clock,
		arrived,
		check: async () => "again",
	});
	return { vault, requests, run: () => loop.run({ ...owner, logbook }) };
}

test.each([
	[401, "not-signed-in", "signed-out"],
	[401, "shut-out", "shut-out"],
	[404, "no-such-logbook", "shut-out"],
	[404, null, "later"],
	[409, "something-else", "later"],
	[429, "too-many", "later"],
	[507, "server-full", "later"],
	[503, "busy", "later"],
])("%i %s: all is kept, %s", async (status, code, outcome) => {
	const { vault, run } = phoneWith(3, [() => refusal(status, code)]);
	expect(await run()).toBe(outcome);
	expect((await vault.unsent()).count).toBe(3);
});

test("a request that cannot be read is halved until the one at fault stands aside", async () => {
	const spoilt = (request: ExchangeRequest) =>
		request.entries.some(({ id }) => id === "e2") ? refusal(400, "not-json") : accept(request);
	const { vault, requests, run } = phoneWith(5, Array(20).fill(spoilt));
	expect(await run()).toBe("done");
	expect((await vault.outbox(9, new Set())).map(({ id }) => id)).toEqual(["e2"]);
	expect(requests.length).toBeLessThan(12);
});

test("a large outbox goes out in pieces of 500", async () => {
	const { requests, run } = phoneWith(1100, Array(5).fill(accept));
	expect(await run()).toBe("done");
	expect(requests.map(({ entries }) => entries.length)).toEqual([500, 500, 100]);
});

test("a refused entry without an id is found by its place in the request", async () => {
	const { vault, run } = phoneWith(2, [
		(request) => {
			const answer = accept(request);
			if (!answer.ok) return answer;
			const stored = answer.value.stored.slice(0, 1);
			return {
				...answer,
				value: { ...answer.value, stored, refused: [{ index: 1, code: "not-an-entry" }] },
			};
		},
	]);
	expect(await run()).toBe("done");
	expect(vault.rows.map(({ state }) => state)).toEqual(["stored", "refused"]);
});

test("a server that gives no verdicts is left alone for now", async () => {
	const silent = (request: ExchangeRequest) => {
		const answer = accept(request);
		if (!answer.ok) return answer;
		return {
			...answer,
			value: { ...answer.value, stored: [], cursor: { epoch: "E", seq: 0, entry: null } },
		};
	};
	const { requests, run } = phoneWith(2, Array(9).fill(silent));
	expect(await run()).toBe("later");
	expect(requests.length).toBeLessThanOrEqual(2);
});

test("the difference to the server's clock is measured", async () => {
	const { vault, run } = phoneWith(1, [accept]);
	let off = 0;
	const apply = vault.applyExchange.bind(vault);
	vault.applyExchange = (change) => {
		off = change.server.clockOffMs;
		return apply(change);
	};
	await run();
	expect(off).toBe(3_600_000);
});
