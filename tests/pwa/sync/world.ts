// Phones, a server and a bad network between them, all moved by one list of actions and one seed.

import { kinds } from "../../../pwa/src/contract/kinds";
import { readStamp, tick } from "../../../pwa/src/kernel/clock";
import { fold } from "../../../pwa/src/kernel/fold";
import { Courier } from "../../../pwa/src/sync/courier";
import type {
	Answer,
	Clock,
	Entry,
	Id,
	Ids,
	Json,
	PhotoNamed,
	Transport,
} from "../../../pwa/src/sync/ports";
import { MemoryVault } from "./memory-vault";
import { heard, ModelServer, type Said } from "./model-server";

/** What happens to one request on its way. */
export type Fault =
	| "none"
	| "lost"
	| "answer-lost"
	| "doubled"
	| "portal"
	| "broken"
	| "killed"
	| "killed-after"
	| "restored";

export type Action =
	| {
			do: "write";
			phone: number;
			about: number;
			how: "fact" | "describe" | "strike" | "held";
			pick: number;
	  }
	| { do: "photo"; phone: number; about: number; bytes: number }
	| { do: "exchange"; phone: number; faults: Fault[] }
	| { do: "clock"; phone: number; ms: number }
	| { do: "pass"; ms: number }
	| { do: "replay"; pick: number }
	| { do: "back-up" }
	| { do: "restore"; byTool: boolean }
	| { do: "kill"; phone: number };

const RECORDS = ["R0", "R1", "R2", "R3"];
const RIPENESS = ["young", "turning", "ripe", "spent"];
const LOGBOOK = "L";
/** In one exchange; far more than any story needs. */
const MOST_REQUESTS = 400;
const START = Date.parse("2026-05-01T08:00:00Z");

/** Small, quick, the same everywhere: mulberry32. */
export function randomOf(seed: number): () => number {
	let state = seed >>> 0;
	return () => {
		state = (state + 0x6d2b79f5) >>> 0;
		let t = state;
		t = Math.imul(t ^ (t >>> 15), t | 1);
		t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
		return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
	};
}

export class World {
	now = START;
	readonly trace: string[] = [];
	readonly server: ModelServer;
	readonly phones: Phone[];
	/** What any phone called saved: the oracle. */
	readonly saved = new Map<Id, string>();
	readonly pictures = new Map<string, number[]>();
	readonly requests: (() => Said)[] = [];

	constructor(count: number, seed: number, page: number) {
		this.server = new ModelServer(() => this.now, page);
		this.phones = Array.from({ length: count }, (_, i) => new Phone(this, i, randomOf(seed + i)));
	}

	async play(action: Action): Promise<void> {
		this.now += 1000;
		switch (action.do) {
			case "write":
				return this.phone(action.phone).write(action);
			case "photo":
				return this.phone(action.phone).photograph(action);
			case "exchange":
				return this.phone(action.phone).exchange(action.faults);
			case "clock":
				this.phone(action.phone).skew += action.ms;
				return;
			case "pass":
				this.now += action.ms;
				return;
			case "replay":
				this.requests[action.pick % Math.max(1, this.requests.length)]?.();
				return;
			case "back-up":
				return this.server.backUp();
			case "restore":
				return this.server.restore(action.byTool);
			case "kill":
				return this.phone(action.phone).restart();
		}
	}

	/** A good network: everybody exchanges until nobody has anything new. */
	async heal(): Promise<void> {
		for (let round = 0; round < 4; round++)
			for (const phone of this.phones) await phone.exchange([]);
	}

	note(line: string): void {
		this.trace.push(`${this.now} ${line}`);
	}

	private phone(i: number): Phone {
		return this.phones[i % this.phones.length] as Phone;
	}
}

export class Phone {
	skew = 0;
	readonly vault: MemoryVault;
	private courier: Courier;
	private faults: Fault[] = [];
	private asked = 0;
	private dead = { is: false };
	private readonly ids: Ids;
	readonly person: string;

	constructor(
		private readonly world: World,
		readonly i: number,
		random: () => number,
	) {
		this.person = `P${i}`;
		let made = 0;
		this.ids = {
			uuid: () => `${this.person}-${String(made++).padStart(4, "0")}`,
			draw: (below) => Math.floor(random() * below),
			node: () => `${"0".repeat(14)}${(0xa0 + i).toString(16)}`,
		};
		const logbook = { id: LOGBOOK, name: "" };
		const who = { name: this.person, initials: "PP", deviceLabel: "", role: "grower" as const };
		this.vault = new MemoryVault({ person: this.person, device: `D${i}`, logbook, ...who });
		this.courier = this.courierOf();
	}

	readonly clock: Clock = {
		wall: () => Math.max(0, this.world.now + this.skew),
		offsetMinutes: () => 0,
		zone: () => "UTC",
	};

	async write({ about, how, pick }: Action & { do: "write" }): Promise<void> {
		const record = RECORDS[about % RECORDS.length] as string;
		const here = this.vault.rows.filter(({ entry }) => entry.about === record);
		const target = here[pick % Math.max(1, here.length)]?.entry;
		if (how === "strike" && target)
			return this.save({
				kind: "entry.struck",
				about: record,
				data: { entry: target.id, reason: "x" },
			});
		if (how === "describe") {
			const heads = this.folded(record).heads["record.described"]?.name ?? [];
			return this.save({
				kind: "record.described",
				about: record,
				data: { name: `name ${pick}` },
				seen: { name: heads },
			});
		}
		const ripeness = how === "held" ? "brownish" : RIPENESS[pick % RIPENESS.length];
		return this.save({ kind: "sori.seen", about: record, data: { ripeness: ripeness as string } });
	}

	async photograph({ about, bytes }: Action & { do: "photo" }): Promise<void> {
		const sha256 = `H${this.i}-${this.vault.photos.length}`;
		const content = Array.from({ length: bytes }, (_, i) => (i * 7 + this.i) % 256);
		const photo = { sha256, bytes, type: "image/jpeg", w: 1, h: 1 };
		this.vault.addPhoto(photo, content);
		this.world.pictures.set(sha256, content);
		await this.save({ kind: "photo.taken", about: RECORDS[about % 4] as string, data: { photo } });
	}

	async exchange(faults: Fault[]): Promise<void> {
		this.faults = [...faults];
		this.asked = 0;
		await Promise.race([this.courier.now(), this.vault.untilDead()]);
		if (this.dead.is) this.restart();
	}

	/** The tab is killed: what was in memory is gone, what was in the store is not. */
	restart(): void {
		this.dead.is = true;
		this.dead = { is: false };
		this.vault.revive();
		this.courier.stop();
		this.courier = this.courierOf();
	}

	folded(record: string) {
		const entries = this.vault.rows
			.filter(({ state }) => state !== "refused")
			.map(({ entry, state, received }) => ({ ...entry, state, received }));
		return fold(record, entries as never, kinds);
	}

	get records() {
		return Object.fromEntries(RECORDS.map((id) => [id, this.folded(id)]));
	}

	private async save(
		draft: Pick<Entry, "kind" | "about" | "data"> & { seen?: Entry["seen"] },
	): Promise<void> {
		const { clock: stored } = this.vault;
		const before = stored ? readStamp(stored) : { ms: 0, counter: 0, node: this.ids.node() };
		const [, made] = tick(before, this.clock.wall());
		const entry = {
			id: this.ids.uuid(),
			v: 1,
			at: "2026-05-02",
			made,
			by: this.person,
			device: `D${this.i}`,
			...draft,
		} as Entry;
		this.vault.save(entry);
		this.world.saved.set(entry.id, JSON.stringify(entry));
		this.world.note(`${this.person} saves ${entry.id}`);
	}

	private courierOf(): Courier {
		return new Courier({
			store: this.vault,
			transport: this.transport(),
			clock: this.clock,
			ids: this.ids,
			timers: { after: () => () => undefined },
			lock: { hold: (_, work) => work() },
			arrived: async () => undefined,
			told: async () => undefined,
			visible: () => true,
			failed: (error) => {
				throw error;
			},
		});
	}

	private transport(): Transport {
		const { server } = this.world;
		const dead = this.dead;
		const ask = <T>(what: string, work: () => Said) => this.carry<T>(dead, what, work);
		return {
			exchange: (_, request) => {
				const copy = structuredClone(request);
				return ask(`exchange ${JSON.stringify(copy)}`, () =>
					server.exchange(this.person, structuredClone(copy)),
				);
			},
			digest: (_, ids, photos) =>
				ask(`digest ${ids.length} ${photos.length}`, () => server.digest(ids, photos)),
			photoOffset: (_, sha256) => ask(`offset ${sha256}`, () => server.photoOffset(sha256)),
			photoPut: (_, photo: PhotoNamed, offset, piece) =>
				ask(`put ${photo.sha256} ${offset}`, () =>
					server.photoPut(photo, offset, [...new Uint8Array(piece)]),
				),
			photoGet: async () => ({ ok: false, status: 404, code: null, body: null }),
		};
	}

	/** The way there and back, with the next fault on it. */
	private async carry<T>(
		dead: { is: boolean },
		what: string,
		work: () => Said,
	): Promise<Answer<T>> {
		const fault = this.faults.shift() ?? "none";
		if (++this.asked > MOST_REQUESTS) throw new Error(`${this.person} asks without end`);
		this.world.note(`${this.person} ${fault} ${what}`);
		const nothing: Answer<T> = { ok: false, status: null, code: null, body: null };
		if (dead.is) return new Promise(() => undefined);
		if (fault === "lost") return nothing;
		const words = !what.startsWith("offset") && !what.startsWith("put");
		if (fault === "portal" && !words) return nothing;
		if (fault === "portal")
			return { ok: true, value: { welcome: "hotel" } as Json as T, status: 200, roundTripMs: 1 };
		if (fault === "broken") return { ok: false, status: 500, code: "broken", body: null };
		if (fault === "killed") return this.die(dead);
		if (fault === "restored") this.world.server.restore(true, 0);
		this.world.requests.push(work);
		const said = work();
		this.world.note(`server ${said.status} ${JSON.stringify(said.body)}`);
		if (fault === "doubled") work();
		if (fault === "killed-after") return this.die(dead);
		return fault === "answer-lost" ? nothing : heard<T>(said);
	}

	private die(dead: { is: boolean }): Promise<never> {
		dead.is = true;
		this.vault.die();
		return new Promise(() => undefined);
	}
}
