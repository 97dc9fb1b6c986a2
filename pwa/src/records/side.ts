// What the entries of a record say beside the fold that lists and search need at once.

import type { FoldedRecord, Json, PhotoNamed, Side, StoredEntry } from "../sync/ports";
import { labelName } from "./line";

type Text = Side["texts"][number];

/** `entries`: all of the record, refused ones left out. */
export function sideOf(record: FoldedRecord, entries: StoredEntry[]): Side {
	const byId = new Map(entries.map((stored) => [stored.id, stored]));
	const facts = record.facts.flatMap((id) => byId.get(id) ?? []);
	const placed = facts.filter(({ entry }) => entry.kind === "box.placed").at(-1)?.entry.data;
	return {
		texts: [...fieldTexts(record), ...facts.flatMap(factTexts)],
		placeNo: typeof placed?.place_no === "number" ? placed.place_no : null,
		photos: facts.flatMap(({ entry }) => photoOf(entry.data.photo)),
		onlyHere: entries.some(({ state }) => state === "unsent"),
	};
}

function fieldTexts({ fields, ...rest }: FoldedRecord): Text[] {
	const text = (where: Text[0], ...values: (Json | undefined)[]): Text[] =>
		values.flatMap((value) => (typeof value === "string" && value ? [[where, value] as Text] : []));
	const { "record.described": r, "name.given": n, "gathering.described": g } = fields;
	return [
		...text("label", labelName({ fields, ...rest })),
		...text("number", g?.number),
		...text("name", n?.taxon, n?.other),
		...text("code", r?.code),
		...text("note", r?.note, n?.why),
		...text("words", fields["place.told"]?.words, fields["place.described"]?.owner, g?.owner),
		...text("words", fields["mix.described"]?.recipe, fields["person.described"]?.initials),
	];
}

function factTexts({ entry: { kind, data } }: StoredEntry): Text[] {
	const text = (where: Text[0], value: Json | undefined): Text[] =>
		typeof value === "string" && value ? [[where, value]] : [];
	if (kind === "packet.received")
		return [
			...text("words", data.as_written),
			...text("number", data.their_number),
			...text("words", data.from),
			...text("words", data.promised),
		];
	return kind === "photo.taken" ? text("words", data.shows) : [];
}

function photoOf(photo: Json | undefined): PhotoNamed[] {
	const named = photo as Partial<PhotoNamed> | null | undefined;
	return named && typeof named === "object" && typeof named.sha256 === "string"
		? [named as PhotoNamed]
		: [];
}
