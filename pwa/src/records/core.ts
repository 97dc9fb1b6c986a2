// The desk without the browser: store, network, clock and timers are given; app/ adds the rest.

import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals-core";
import type { CarePlan } from "../kernel/plan";
import { isPlan } from "../kernel/plan-shape";
import { Courier, type CourierStatus } from "../sync/courier";
import type {
	Account,
	Clock,
	Counts,
	FoldCache,
	Id,
	Ids,
	Lock,
	NumberState,
	OutlookRow,
	PhoneOwner,
	PhotoNamed,
	RecordStore,
	ServerSaid,
	Shout,
	Store,
	StoredEntry,
	Task,
	Timers,
	Transport,
} from "../sync/ports";
import { isEverAway, tasksKeptBy, tasksOn } from "./chores";
import type { DeskState, Found, Link, Me, Safety, Shelves } from "./desk";
import { Folding } from "./folding";
import { nowOf, todayOf } from "./local-time";
import type { Rules } from "./rules";
import { Search } from "./search";
import { RecordIndex } from "./shelves";
import type { Fix, Verbs } from "./verb-inputs";
import { allVerbs } from "./verbs";
import { roleIn } from "./verbs/people";
import { Writer } from "./writer";

export interface CoreNeeds {
	store: RecordStore;
	/** The same store, as the exchange sees it. */
	sync: Store;
	cache: FoldCache;
	transport: Transport;
	account: Account;
	clock: Clock;
	ids: Ids;
	timers: Timers;
	lock: Lock;
	shout: Shout;
	rules: Rules;
	visible(): boolean;
	breathe(): Promise<void>;
	position(): Fix | null;
	laterPosition(): Promise<Fix | null>;
	deviceLabel(): string;
	origin(): string;
	/** After every save: the store is asked to be kept. */
	afterSave(): void;
	failed(error: unknown): void;
}

const NOTHING: Counts = {
	...{
		unsent: 0,
		oldestMade: null,
		onServer: 0,
		backedUp: 0,
		checking: 0,
		refused: 0,
		photosHere: 0,
	},
};
const SHOW_EVERY_MS = 1_000;
const NO_NUMBERS: NumberState = { met: false, blocks: {}, last: {} };

/** What the browser knows and the core does not. */
export type BrowserSafety = Pick<
	Safety,
	"persisted" | "storageFull" | "otherTabNewer" | "updateReady"
>;

export class Core {
	readonly state: Signal<DeskState> = signal("starting");
	readonly owner: Signal<PhoneOwner | null> = signal(null);
	readonly said: Signal<ServerSaid | null> = signal(null);
	readonly outlooks: Signal<OutlookRow[]> = signal([]);
	readonly today: Signal<string>;
	readonly records: Signal<Shelves>;
	readonly browser: Signal<BrowserSafety> = signal({
		...{ persisted: false, storageFull: false, otherTabNewer: false, updateReady: false },
	});
	readonly me: ReadonlySignal<Me | null> = computed(() => {
		const owner = this.owner.value;
		return owner && { ...owner, joined: owner.logbook !== null };
	});
	readonly safety: ReadonlySignal<Safety> = computed(() => this.safetyNow());
	readonly allTasks: ReadonlySignal<Task[]> = computed(() => this.due(this.today.value, null));
	readonly tasks: ReadonlySignal<Task[]> = computed(() => {
		const [person, shelves, day] = [this.owner.value?.person, this.records.value, this.today.value];
		if (!person || isEverAway(person, shelves)) return this.due(day, person ?? null);
		return tasksKeptBy(person, this.allTasks.value, shelves, day);
	});
	readonly verbs: Verbs;
	readonly courier: Courier;
	private readonly folding: Folding;
	private readonly index = new RecordIndex();
	private readonly finder = new Search(this.index);
	private readonly counts: Signal<Counts> = signal(NOTHING);
	private readonly held: Signal<number> = signal(0);
	private readonly exchange: Signal<CourierStatus>;
	private readonly plans: Signal<ReadonlyMap<Id, CarePlan>> = signal(new Map());
	private numbers: NumberState = NO_NUMBERS;
	/** The index is newer than what the screens have. */
	private stale = false;
	private shownAt = 0;
	private readonly stops: (() => void)[] = [];

	constructor(private readonly needs: CoreNeeds) {
		const { store, cache, rules, breathe, clock } = needs;
		this.today = signal(todayOf(clock, null));
		this.records = signal(this.index.view(true));
		this.folding = new Folding({
			...{ store, cache, index: this.index, kinds: rules.kinds, rules: rules.version, breathe },
			changed: () => this.recordsChanged(),
		});
		this.courier = new Courier({
			...needs,
			store: needs.sync,
			arrived: (records) => this.arrived(records),
			told: (status) => this.told(status),
		});
		this.exchange = signal(this.courier.status);
		this.verbs = allVerbs(this.verbNeeds());
	}

	/** Reads what is here; the screens can be used when this resolves. */
	async start(): Promise<void> {
		const { store, shout } = this.needs;
		this.stops.push(shout.heard((message) => void this.heard(message.kind)));
		this.owner.value = await store.owner();
		await this.reread();
		await this.folding.start();
		this.state.value = this.owner.value ? "ready" : "unclaimed";
		await this.refresh();
	}

	stop(): void {
		this.courier.stop();
		for (const stop of this.stops) stop();
	}

	now(): string {
		return nowOf(this.needs.clock, this.said.value);
	}

	/** The day may have changed while nobody looked. */
	lookAtClock(): void {
		this.today.value = todayOf(this.needs.clock, this.said.value);
	}

	due(day: string, person: Id | null): Task[] {
		const { rules } = this.needs;
		const [plans, outlooks] = [this.plans.value, this.outlooks.value];
		return tasksOn(day, person, this.records.value, { rules, plans, outlooks });
	}

	search(text: string): Found[] {
		return this.finder.find(text, this.records.value);
	}

	/** A photo as the entry names it that was folded last. */
	photoNamed(sha256: string): PhotoNamed | undefined {
		for (const { side } of this.index.folds.values())
			for (const photo of side.photos) if (photo.sha256 === sha256) return photo;
		return undefined;
	}

	unsentEntries(): Promise<StoredEntry[]> {
		return this.needs.store.unsentEntries();
	}

	/** What the server knows of this phone's person: the role may have changed. */
	async lookAtRole(): Promise<void> {
		const owner = this.owner.value;
		if (!owner?.logbook) return;
		const role = await roleIn(this.needs.account, owner.logbook.id);
		if (role === null || role === owner.role) return;
		await this.needs.store.setOwner({ ...owner, role });
		this.owner.value = await this.needs.store.owner();
	}

	/** In the order of the fold: by day, hour, stamp. */
	async entriesOf(record: Id): Promise<StoredEntry[]> {
		const entries = (await this.needs.store.entriesOf([record])).get(record) ?? [];
		return entries.sort((a, b) => (orderOf(a) < orderOf(b) ? -1 : 1));
	}

	/** Refused ones, and held ones of this person that nobody has crossed out yet. */
	async needsFixing(): Promise<StoredEntry[]> {
		const me = this.owner.value;
		const mine = ({ by, device }: StoredEntry["entry"]) =>
			by === me?.person || device === me?.device;
		return (await this.needs.store.attention()).filter(({ id, state, entry }) => {
			const open = this.index.folds.get(entry.about)?.record.held.includes(id) ?? true;
			return state === "refused" || (mine(entry) && open);
		});
	}

	/** What stands beside the records: counts, numbers, what the server said last. */
	async refresh(): Promise<void> {
		await this.reread();
		const fixing = await this.needsFixing();
		this.counts.value = await this.needs.store.counts();
		this.held.value = fixing.filter(({ state }) => state === "held").length;
		await this.readPlans();
	}

	private async reread(): Promise<void> {
		const { store } = this.needs;
		this.numbers = await store.numbers();
		this.said.value = await store.server();
		this.outlooks.value = await store.outlooks();
		this.lookAtClock();
	}

	private verbNeeds() {
		const { store, rules, clock, ids } = this.needs;
		const writer = new Writer({
			...{ store, rules, clock, ids, folding: this.folding, index: this.index },
			owner: () => this.owner.value,
			server: () => this.said.value,
			numbers: () => this.numbers,
			saved: (entries) => this.saved(entries),
		});
		const shelves = () => this.records.value;
		const plans = () => this.plans.value;
		const ownerChanged = () => this.ownerChanged();
		const exchange = () => this.courier.now();
		return { ...this.needs, writer, shelves, plans, ownerChanged, exchange };
	}

	private async saved(entries: StoredEntry[]): Promise<void> {
		if (this.stale) this.showRecords();
		this.numbers = await this.needs.store.numbers();
		const ids = [...new Set(entries.map(({ entry }) => entry.about))];
		this.needs.shout.tell({ kind: "records", ids });
		this.needs.afterSave();
		this.courier.soon();
		this.refresh().catch(this.needs.failed);
	}

	private async ownerChanged(): Promise<void> {
		this.owner.value = await this.needs.store.owner();
		this.needs.shout.tell({ kind: "owner" });
		if (this.owner.value) this.state.value = "ready";
		await this.folding.catchUp();
		await this.refresh();
		this.courier.soon();
	}

	/** One page of many, perhaps: the rest is looked at when the exchange has ended. */
	private async arrived(ids: Id[]): Promise<void> {
		await this.folding.catchUp();
		this.needs.shout.tell({ kind: "records", ids });
	}

	private async told(status: CourierStatus): Promise<void> {
		const turned = this.exchange.value.settled !== status.settled;
		this.exchange.value = status;
		if (turned || (this.stale && !status.exchanging)) this.showRecords();
		await this.refresh();
		if (!status.exchanging) this.needs.shout.tell({ kind: "exchange" });
	}

	private async heard(kind: "records" | "owner" | "exchange"): Promise<void> {
		if (kind === "owner") this.owner.value = await this.needs.store.owner();
		if (kind === "owner" && this.owner.value) this.state.value = "ready";
		if (kind !== "exchange") await this.folding.catchUp();
		await this.refresh();
	}

	/** While page after page comes in, the screens follow once a second; a person's own save at once. */
	private recordsChanged(): void {
		const since = Math.abs(this.needs.clock.wall() - this.shownAt);
		this.stale = this.exchange.value.exchanging && since < SHOW_EVERY_MS;
		if (!this.stale) this.showRecords();
	}

	private showRecords(): void {
		this.stale = false;
		this.shownAt = this.needs.clock.wall();
		this.records.value = this.index.view(this.exchange.value.settled);
	}

	/** Plans that boxes name; one that is struck, held or not here does not count. */
	private async readPlans(): Promise<void> {
		const wanted = new Set<Id>();
		for (const { record } of this.index.folds.values()) {
			const plan = record.fields["box.described"]?.plan;
			if (typeof plan === "string") wanted.add(plan);
		}
		if (wanted.size === 0 && this.plans.value.size === 0) return;
		const plans = new Map<Id, CarePlan>();
		for (const { id, entry } of await this.needs.store.entries([...wanted])) {
			const record = this.index.folds.get(entry.about)?.record;
			const off = !record || record.struck.includes(id) || record.held.includes(id);
			const { plan } = entry.data;
			if (entry.kind === "plan.set" && !off && isPlan(plan)) plans.set(id, plan);
		}
		this.plans.value = plans;
	}

	private safetyNow(): Safety {
		const { unsent, photosHere, oldestMade, ...counts } = this.counts.value;
		const { outcome, exchanging } = this.exchange.value;
		const said = this.said.value;
		const oldest = oldestMade === null ? null : Number.parseInt(oldestMade.slice(0, 12), 16);
		return {
			...{ unsent, photosHere, unsentPhotos: photosHere, ...counts, ...this.browser.value },
			oldestUnsentMs: oldest === null ? null : Math.max(0, this.needs.clock.wall() - oldest),
			held: this.held.value,
			clockOffMs: said?.clockOffMs ?? null,
			lastExchangeMs: said?.atMs ?? null,
			link: linkOf(outcome, counts.checking),
			exchanging,
		};
	}
}

function linkOf(outcome: CourierStatus["outcome"], checking: number): Link {
	if (outcome === "signed-out" || outcome === "shut-out") return outcome;
	if (checking > 0) return "diverged";
	return outcome === "done" ? "online" : "offline";
}

function orderOf({ id, entry }: StoredEntry): string {
	return `${entry.at.slice(0, 10)} ${entry.at.slice(11, 19) || "24:00:00"} ${entry.made} ${id}`;
}
