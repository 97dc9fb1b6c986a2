/** What the tables of the contract say of a fern by its name: how ripe looks, which drawing, what to mind; and the search among their names. */
import { rowOf } from "../contract/taxa";
import taxa from "../contract/taxa.json";

/** Sorus types for which ripeness is drawn; `other` is told in words alone. */
export type Sorus =
	| "lid"
	| "naked"
	| "line"
	| "margin"
	| "bead"
	| "cup"
	| "felt"
	| "cone"
	| "other";

const drawn: Readonly<Record<string, Sorus>> = {
	round_with_lid: "lid",
	round_naked: "naked",
	line: "line",
	rolled_margin: "margin",
	bead: "bead",
	cup: "cup",
	valve: "cup",
	felt: "felt",
	cone: "cone",
	other: "other",
};

export interface Fern {
	/** null: not known; ask what shape the sori are. */
	sorus: Sorus | null;
	/** The look of ripe sporangia on the frond. */
	ripeColour: string | null;
	ripeNote: string | null;
	/** Ripe and holding: may be cut any time before spring. */
	holdsOverWinter: boolean;
	caution: string | null;
	/** Trade, protection or pest somewhere: send people to the authority, never decide. */
	ask: boolean;
}

const textOf = (value: unknown): string | null =>
	typeof value === "string" && value !== "" ? value : null;

/** null: the tables have not even its genus, and nothing is made up. */
export function fernOf(taxon: string): Fern | null {
	const row = rowOf(taxon);
	if (!row) return null;
	return {
		sorus: drawn[textOf(row.sorus_type) ?? ""] ?? null,
		ripeColour: textOf(row.ripe_colour_sporangia),
		ripeNote: textOf(row.ripe_note),
		holdsOverWinter: row.holds_over_winter === "yes",
		caution: textOf(row.caution),
		ask: row.legal_flag === "check",
	};
}

export interface FoundFern {
	/** Without author. */
	name: string;
	/** Its English name, else an older one. */
	also: string | null;
}

/** "Dryopteris affinis" of "Dryopteris affinis (Lowe) Fraser-Jenk."; hybrids keep their cross. */
export function withoutAuthor(name: string): string {
	const words = name.split(/\s+/);
	return words.slice(0, words[1] === "×" ? 3 : 2).join(" ");
}

const plain = (text: string) => text.toLowerCase().replaceAll("×", "").replace(/\s+/g, " ").trim();

const names = (taxa.species as readonly { [column: string]: unknown }[]).map((row) => {
	const name = withoutAuthor(textOf(row.name) ?? "");
	const others = [textOf(row.common_name_en), textOf(row.also_known_as)].flatMap(
		(one) => one ?? [],
	);
	return { name, plain: plain(name), others: others.map(plain), also: others[0] ?? null };
});

/** How near a name is to what was typed: 0 it begins so, 1 a word or both words do, 2 another name of it; null not at all. */
function nearness(typed: string, name: string, others: readonly string[]): number | null {
	if (name.startsWith(typed)) return 0;
	if (name.includes(` ${typed}`)) return 1;
	const [a, b] = typed.split(" ");
	const [genus = "", epithet = ""] = name.split(" ");
	if (a && b && genus.startsWith(a) && epithet.startsWith(b)) return 1;
	return others.some((one) => one.startsWith(typed) || one.includes(` ${typed}`)) ? 2 : null;
}

/** Ferns of the tables whose name, English name or older name begins (a word) with what was typed; nearest first. */
export function searchFerns(typed: string, most: number): FoundFern[] {
	const wanted = plain(typed);
	if (!wanted) return [];
	return names
		.flatMap((row) => {
			const near = nearness(wanted, row.plain, row.others);
			return near === null ? [] : [{ near, name: row.name, also: row.also }];
		})
		.sort((a, b) => a.near - b.near || (a.name < b.name ? -1 : 1))
		.slice(0, most)
		.map(({ name, also }) => ({ name, also }));
}
