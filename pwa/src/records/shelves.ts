// All folded records in memory, with what lists need: who stands where, what came of what, which code.

import { growingOf } from "../contract/taxa";
import { plain } from "../kernel/code";
import type { FoldedRecord, Id, Json, KeptFold, PhotoNamed } from "../sync/ports";
import type { CrossQuestion, Growing, Naming, Shelves } from "./desk";
import { labelName, nameOf, standsFor } from "./line";
import { MultiIndex } from "./multi-index";

/** Words of the running numbers: the same number twice is a question. */
const NUMBERED = new Set(["box", "packet", "plant", "pots", "mix", "shelf"]);

export class RecordIndex {
	readonly folds = new Map<Id, KeptFold>();
	readonly index = new MultiIndex();

	put(fold: KeptFold): void {
		this.folds.set(fold.id, fold);
		this.index.set(fold.id, keysOf(fold.record));
	}

	/** A label that something bears already. */
	knowsLabel(label: string): boolean {
		return this.index.has(`label:${label}`);
	}

	knowsCode(code: string): boolean {
		return this.index.has(`code:${code}`);
	}

	/** `settled`: the last exchange was finished, or there is no signal; questions wait for that. */
	view(settled: boolean): Shelves {
		return new ShelvesView(this, settled);
	}
}

function keysOf(record: FoldedRecord): string[] {
	const f = record.fields;
	const keys: string[] = [`type:${record.type}`];
	const link = (word: string, ...ids: (Json | undefined)[]) => {
		for (const id of ids) if (typeof id === "string") keys.push(`${word}:${id}`);
	};
	const packets = f["sowing.described"]?.packets;
	link("same", f["record.described"]?.same_as);
	link("code", f["record.described"]?.code);
	link("label", labelName(record));
	link("number", f["gathering.described"]?.number);
	link("in", f["sowing.described"]?.box, f["clump.described"]?.box);
	link("on", record.states.shelf?.value);
	link("from", f["gathering.described"]?.plant, f["packet.described"]?.from);
	link("from", f["clump.described"]?.from, f["pots.described"]?.from);
	link("from", ...(Array.isArray(packets) ? packets : []));
	link("at", f["plant.described"]?.place, f["gathering.described"]?.place);
	return keys;
}

class ShelvesView implements Shelves {
	private readonly names = new Map<Id, Naming | null>();

	constructor(
		private readonly all: RecordIndex,
		private readonly settled: boolean,
	) {}

	get size(): number {
		return this.all.folds.size;
	}

	get(id: Id): FoldedRecord | undefined {
		const record = this.all.folds.get(id)?.record;
		return record && standsFor(record, (other) => this.all.folds.get(other)?.record);
	}

	ofType(type: string): FoldedRecord[] {
		const found = this.records(this.all.index.under(`type:${type}`));
		return sortedByLabel(found.filter((record) => this.get(record.id) === record));
	}

	sowingsIn(box: Id): FoldedRecord[] {
		return this.linked("in", box)
			.filter(({ type }) => type === "sowing")
			.sort((a, b) => compare(partOf(a), partOf(b)) || compare(a.id, b.id));
	}

	boxesOn(shelf: Id): FoldedRecord[] {
		const place = (id: Id) => this.all.folds.get(id)?.side.placeNo ?? Number.MAX_SAFE_INTEGER;
		const boxes = this.linked("on", shelf).filter(({ type }) => type === "box");
		return sortedByLabel(boxes).sort((a, b) => place(a.id) - place(b.id));
	}

	cameOf(id: Id): FoldedRecord[] {
		return [...this.linked("from", id), ...this.linked("at", id)];
	}

	nameOf(id: Id): Naming | null {
		const known = this.names.get(id);
		if (known !== undefined) return known;
		const record = this.all.folds.get(id)?.record;
		const line = { get: (of: Id) => this.get(of), inside: (box: Id) => this.sowingsIn(box) };
		const name = record ? nameOf(record, line) : null;
		this.names.set(id, name);
		return name;
	}

	growingOf(sowing: Id): Growing {
		return growingOf(this.nameOf(sowing)?.taxon ?? null);
	}

	labelOf(id: Id): string {
		const record = this.get(id);
		if (!record) return "?";
		const own = labelName(record) ?? this.partLabel(record);
		return own ?? ([record.type, this.codeOf(id)].filter((word) => word !== null).join(" ") || "?");
	}

	codeOf(id: Id): string | null {
		const code = this.get(id)?.fields["record.described"]?.code;
		return typeof code === "string" ? code : null;
	}

	byCode(code: string): FoldedRecord[] {
		return this.standing(this.all.index.under(`code:${plain(code)}`));
	}

	questions(): FoldedRecord[] {
		if (!this.settled) return [];
		const asked = [...this.all.folds.values()].filter(({ record }) => record.questions.length > 0);
		return asked.map(({ record }) => record);
	}

	crossQuestions(): CrossQuestion[] {
		if (!this.settled) return [];
		const twice = (prefix: string) =>
			this.all.index
				.crowded(prefix, 2)
				.map(([value, ids]) => ({ value, records: this.standing(ids).map(({ id }) => id) }))
				.filter(({ records }) => records.length > 1);
		const numbered = twice("label:").filter(({ value }) => NUMBERED.has(value.split(" ")[0] ?? ""));
		return [
			...twice("number:").map((found) => ({ question: "number-twice" as const, ...found })),
			...numbered.map((found) => ({ question: "number-twice" as const, ...found })),
			...twice("code:").map((found) => ({ question: "code-twice" as const, ...found })),
			...this.withoutParent(),
		];
	}

	photosOf(id: Id): PhotoNamed[] {
		return this.all.folds.get(id)?.side.photos ?? [];
	}

	onlyHere(id: Id): boolean {
		return this.all.folds.get(id)?.side.onlyHere ?? false;
	}

	private withoutParent(): CrossQuestion[] {
		const gone = (["from", "in", "on", "at"] as const)
			.flatMap((word) => this.all.index.crowded(`${word}:`, 1))
			.filter(([id]) => !this.all.folds.has(id));
		return gone.map(([value, records]) => ({
			question: "parent-missing" as const,
			value,
			records,
		}));
	}

	/** Records that name this one, or one that was merged into it. */
	private linked(word: string, id: Id): FoldedRecord[] {
		const ids = this.merged(id).flatMap((each) => this.all.index.under(`${word}:${each}`));
		return this.standing(ids);
	}

	private merged(id: Id): Id[] {
		const ids = new Set([id]);
		for (const each of ids)
			for (const other of this.all.index.under(`same:${each}`)) ids.add(other);
		return [...ids];
	}

	private standing(ids: Id[]): FoldedRecord[] {
		return [...new Set(ids.flatMap((id) => this.get(id) ?? []))];
	}

	private records(ids: Id[]): FoldedRecord[] {
		return ids.flatMap((id) => this.all.folds.get(id)?.record ?? []);
	}

	private partLabel(record: FoldedRecord): string | null {
		const box = record.fields["sowing.described"]?.box;
		if (typeof box !== "string" || !this.get(box)) return null;
		return [this.labelOf(box), partOf(record)].filter((word) => word !== "").join(" ");
	}
}

function sortedByLabel(records: FoldedRecord[]): FoldedRecord[] {
	const keyed = records.map((record) => ({ record, key: sortKey(labelName(record) ?? "") }));
	keyed.sort((a, b) => compare(a.key, b.key) || compare(a.record.id, b.record.id));
	return keyed.map(({ record }) => record);
}

function partOf(sowing: FoldedRecord): string {
	const part = sowing.fields["sowing.described"]?.part;
	return typeof part === "string" ? part : "";
}

function compare(a: string, b: string): number {
	return a < b ? -1 : a > b ? 1 : 0;
}

/** "box 9" before "box 10", "box 10" before "box 10a". */
export function compareLabels(a: string, b: string): number {
	return compare(sortKey(a), sortKey(b));
}

function sortKey(label: string): string {
	return label.toLowerCase().replace(/\d+/g, (digits) => digits.padStart(9, "0"));
}
