// What the tables of ferns say of a fern by its written name: the species' own value, else its
// genus', else not known. Twin of backend/sporeline/contract/taxa.py; tests/vectors/taxa.

import tables from "./taxa.json";

type Value = string | number | null;
export type FernRow = { readonly [column: string]: Value };
type SpeciesRow = { readonly [column: string]: Value | FernRow };

/** Usual weeks from sowing by stage, whole, rounded outwards; null = not known. */
export interface Growing {
	group: string;
	green: boolean;
	apogamous: boolean;
	spans: { [stage: string]: [number, number] | null };
	/** The tables do not have this fern: taken for a quick woodland one. */
	guess: boolean;
}

const STAGES = ["green", "prothalli", "first_fronds", "prick_out", "small_pot"];
const GUESSED_GROUP = "quick_woodland";
const PASSED_OVER = new Set(["×", "x", "cf.", "aff.", "ex"]);

/** Genus and epithet in small letters; crosses and qualifiers are passed over. */
function wordsOf(taxon: string): string[] {
	const words = taxon.toLowerCase().split(/\s+/);
	return words
		.filter((word) => word !== "" && !PASSED_OVER.has(word))
		.map((word) => word.replace(/^×+/, ""));
}

const nameOf = (taxon: string) => wordsOf(taxon).slice(0, 2).join(" ");
const textOf = (value: Value | FernRow | undefined) => (typeof value === "string" ? value : "");

const speciesRows: readonly SpeciesRow[] = tables.species as unknown as SpeciesRow[];
const rowsBy = (rows: readonly unknown[], column: string) =>
	new Map((rows as FernRow[]).map((row) => [textOf(row[column]).toLowerCase(), row]));
const genera = rowsBy(tables.genera, "genus");
const groups = rowsBy(tables.groups, "group");

/** A species by its name, and by the other names it is known by. */
const species = new Map<string, SpeciesRow>();
for (const row of speciesRows)
	for (const name of textOf(row.also_known_as).split("; "))
		if (!species.has(nameOf(name))) species.set(nameOf(name), row);
for (const row of speciesRows) species.set(nameOf(textOf(row.name)), row);

const known = (row: object): FernRow =>
	Object.fromEntries(
		Object.entries(row).filter(([, value]) => value !== null && typeof value !== "object"),
	);

/** Columns of its genus with those of its species over them; null when the genus is unknown. */
export function rowOf(taxon: string | null): FernRow | null {
	const [first] = wordsOf(taxon ?? "");
	if (first === undefined) return null;
	const row = species.get(nameOf(taxon ?? ""));
	const genus = genera.get((textOf(row?.genus) || first).toLowerCase());
	if (!genus) return null;
	const own = (row?.overrides ?? {}) as FernRow;
	// A species that is cared for unlike its genus has the usual spans of its own care group.
	const spans = "care_group" in own ? groups.get(textOf(own.care_group)) : {};
	return known({ ...genus, ...spans, ...row, ...own });
}

function spanOf(row: FernRow, stage: string): [number, number] | null {
	const [least, most] = [row[`${stage}_min`], row[`${stage}_max`]];
	if (typeof least !== "number" || typeof most !== "number") return null;
	return [Math.floor(least), Math.ceil(most)];
}

/** How a fern usually grows. Spores of a genus "by species" count as green until known. */
export function growingOf(taxon: string | null): Growing {
	const row = rowOf(taxon);
	const group = textOf(row?.care_group) || GUESSED_GROUP;
	const from = row ?? groups.get(group) ?? {};
	return {
		group,
		green: !["", "no"].includes(textOf(row?.green_spored)),
		apogamous: row?.apogamous === "yes",
		spans: Object.fromEntries(STAGES.map((stage) => [stage, spanOf(from, stage)])),
		guess: row === null,
	};
}

/** The type of sorus as the tables write it, or null. */
export const sorusOf = (taxon: string | null): string | null =>
	textOf(rowOf(taxon)?.sorus_type) || null;

/** What to look for when it is ripe, in one clause, or null. */
export const ripeNoteOf = (taxon: string | null): string | null =>
	textOf(rowOf(taxon)?.ripe_note) || null;
