/** The versions that a question is between: what each says, who wrote it, when. */
import { useEffect, useState } from "preact/hooks";
import { useDesk } from "../../parts/desk";
import { say } from "../../parts/say";
import { fullName } from "../../parts/taxon";
import type { Desk, Json, Shelves, StoredEntry } from "../../records/desk";
import { momentText, whoText } from "./people-words";
import { type FieldQuestion, sameValue } from "./question-list";
import type { Fixed } from "./two-places";
import { valueText } from "./values";

export interface Version {
	value: Json;
	/** What it says, as an answer. */
	words: string;
	who: string;
	when: string;
	stored: StoredEntry;
}

const text = (value: Json | undefined) => (typeof value === "string" ? value : null);

/** A name with how sure it is marked; a place by its position; anything else by its value. */
function wordsOf(records: Shelves, { kind, field }: FieldQuestion, { entry }: StoredEntry): string {
	const { data } = entry;
	if (kind === "name.given")
		return data.taxon
			? fullName({
					taxon: text(data.taxon),
					qualifier: text(data.qualifier),
					other: text(data.other),
				})
			: valueText(records, field, null);
	if (kind === "place.fixed" || kind === "place.told")
		return say("book.question.place-of", { who: whoText(records, entry.by) });
	const words = valueText(records, field, data[field] ?? null);
	return field === "name" ? `“${words}”` : words;
}

/** One version for each distinct value, by the last who wrote it. */
export async function versionsOf(
	desk: Desk,
	record: string,
	question: FieldQuestion,
): Promise<Version[]> {
	const entries = await desk.entriesOf(record);
	const records = desk.records.peek();
	const today = desk.today.peek();
	const heads = entries.filter(({ id }) => question.heads.includes(id));
	return question.values.flatMap((value): Version[] => {
		const stored = heads.findLast(({ entry }) => sameValue(entry.data[question.field], value));
		if (!stored) return [];
		return [
			{
				value,
				words: wordsOf(records, question, stored),
				who: whoText(records, stored.entry.by),
				when: momentText(stored.entry.at, today, stored.entry.span?.said),
				stored,
			},
		];
	});
}

export function useVersions(record: string, question: FieldQuestion): Version[] {
	const desk = useDesk();
	const [versions, found] = useState<Version[]>([]);
	const records = desk.records.value;
	useEffect(() => {
		let wanted = true;
		if (records)
			versionsOf(desk, record, question).then((all) => {
				if (wanted) found(all);
			});
		return () => {
			wanted = false;
		};
	}, [desk, record, question, records]);
	return versions;
}

/** A version that is a position, for the drawing. */
export function fixedOf({ stored, who }: Version): Fixed | null {
	const { lat_e7, lon_e7, uncertainty_m } = stored.entry.data;
	if (typeof lat_e7 !== "number" || typeof lon_e7 !== "number") return null;
	return { lat_e7, lon_e7, uncertainty_m: Number(uncertainty_m ?? 100), who };
}
