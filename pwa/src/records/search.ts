// Search over names, labels, numbers, codes and notes, old numbers too. All words must be found.

import { rowOf } from "../contract/taxa";
import type { Id } from "../sync/ports";
import type { Found, Shelves } from "./desk";
import { compareLabels, type RecordIndex } from "./shelves";

const MOST = 60;
const ORDER: Found["in"][] = ["label", "number", "code", "name", "words", "note"];

interface Line {
	where: Found["in"];
	text: string;
	plain: string;
}

/** Case, accents and the mark of a hybrid make no difference. */
export function plainText(text: string): string {
	return text.normalize("NFD").replace(/\p{M}/gu, "").replace(/×\s*/g, "x ").toLowerCase();
}

export class Search {
	private readonly lines = new Map<Id, { of: unknown; lines: Line[] }>();

	private readonly names = new Map<string, Line[]>();

	constructor(private readonly all: RecordIndex) {}

	find(asked: string, shelves: Shelves): Found[] {
		const words = plainText(asked)
			.split(/\s+/)
			.filter((word) => word !== "");
		if (!words.length) return [];
		const whole = words.join(" ");
		const hits: { found: Found; rank: number }[] = [];
		for (const { id, record } of this.all.folds.values()) {
			const lines = this.linesOf(id, shelves);
			if (!words.every((word) => lines.some(({ plain }) => plain.includes(word)))) continue;
			const best = bestOf(lines, words, whole);
			const name = shelves.nameOf(id);
			const label = shelves.labelOf(id);
			const found = {
				record: id,
				type: record.type,
				label,
				name,
				in: best.line.where,
				text: best.line.text,
			};
			hits.push({ found, rank: best.rank });
		}
		hits.sort((a, b) => a.rank - b.rank || compareLabels(a.found.label, b.found.label));
		return hits.slice(0, MOST).map(({ found }) => found);
	}

	/** A record's own texts are prepared once; its name may come from up the line and change with it. */
	private linesOf(id: Id, shelves: Shelves): Line[] {
		const texts = this.all.folds.get(id)?.side.texts ?? [];
		let kept = this.lines.get(id);
		if (kept?.of !== texts) {
			const lines = texts.map(([where, text]) => ({ where, text, plain: plainText(text) }));
			kept = { of: texts, lines };
			this.lines.set(id, kept);
		}
		const taxon = shelves.nameOf(id)?.taxon;
		return taxon ? [...kept.lines, ...this.namesOf(taxon)] : kept.lines;
	}

	/** The botanical name and the common one. */
	private namesOf(taxon: string): Line[] {
		let lines = this.names.get(taxon);
		if (!lines) {
			const names = [taxon, String(rowOf(taxon)?.common_name_en ?? "")].filter(
				(name) => name !== "",
			);
			lines = names.map((text) => ({ where: "name", text, plain: plainText(text) }));
			this.names.set(taxon, lines);
		}
		return lines;
	}
}

function bestOf(lines: Line[], words: string[], whole: string): { line: Line; rank: number } {
	let best: { line: Line; rank: number } | null = null;
	for (const line of lines) {
		if (!words.some((word) => line.plain.includes(word))) continue;
		const closeness = line.plain === whole ? 0 : line.plain.startsWith(whole) ? 10 : 20;
		const rank = closeness + ORDER.indexOf(line.where);
		if (!best || rank < best.rank) best = { line, rank };
	}
	return best ?? { line: { where: "words", text: "", plain: "" }, rank: 99 };
}
