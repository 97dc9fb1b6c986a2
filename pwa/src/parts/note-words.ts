/** One note in words, with its drawing: for the story of a record. */

import type { Shelves } from "../records/desk";
import type { Entry } from "../sync/wire";
import { pictureOf } from "./answering";
import type { PictogramName } from "./pictogram";
import { isTextKey, say } from "./say";
import { fullName } from "./taxon";

export interface NoteWords {
	text: string;
	picture: PictogramName;
}

type Telling = (entry: Entry, records: Shelves) => NoteWords | null;

const text = (value: unknown): string => (typeof value === "string" ? value : "");

const keyed = (prefix: string, value: unknown): string => {
	const key = `${prefix}.${text(value)}`;
	return isTextKey(key) ? say(key) : text(value).replaceAll("_", " ");
};

const label = (records: Shelves, id: unknown): string =>
	typeof id === "string" ? records.labelOf(id) : say("parts.note.unknown");

const fact: Readonly<Record<string, Telling>> = {
	"growth.seen": ({ data }) => ({
		text: keyed("parts.growth", data.growth),
		picture: pictureOf(text(data.growth)) ?? "object-box",
	}),
	"trouble.begun": ({ data }) => ({
		text: keyed("parts.trouble", data.trouble),
		picture: pictureOf(text(data.trouble)) ?? "do-fix",
	}),
	"trouble.ended": ({ data }) => ({
		text: say("parts.note.trouble-ended", { trouble: keyed("parts.trouble", data.trouble) }),
		picture: "do-yes",
	}),
	"cover.set": ({ data }) => ({
		text: say("parts.note.cover", { cover: keyed("parts.cover", data.cover) }),
		picture: coverPicture(text(data.cover)),
	}),
	"spores.sown": ({ data }) => ({
		text: data.density
			? say("parts.note.sown-density", { density: keyed("parts.density", data.density) })
			: say("parts.note.sown"),
		picture: "object-packet",
	}),
	"box.placed": ({ data }, records) => ({
		text: say("parts.note.placed", { shelf: label(records, data.shelf) }),
		picture: "object-shelf",
	}),
	"shelf.walked": () => ({ text: say("parts.note.walked"), picture: "do-round" }),
	"task.answered": ({ data }) => ({
		text: keyed("plans.answer", data.answer),
		picture: pictureOf(text(data.answer)) ?? "do-later",
	}),
	"name.given": ({ data }) => ({
		text: data.taxon
			? say("parts.note.named", {
					name: fullName({
						taxon: text(data.taxon),
						qualifier: text(data.qualifier) || null,
						other: text(data.other) || null,
					}),
				})
			: say("parts.note.unnamed"),
		picture: "object-label",
	}),
	"photo.taken": () => ({ text: say("parts.note.photo"), picture: "do-photo" }),
	"packet.received": ({ data }) => ({
		text: data.from
			? say("parts.note.received-from", { from: text(data.from) })
			: say("parts.note.received"),
		picture: "object-received",
	}),
	"frond.cut": ({ data }) => ({
		text: say("parts.note.cut", { taken: keyed("parts.taken", data.taken) }),
		picture: "object-collection",
	}),
};

export const coverPicture = (cover: string): PictogramName =>
	(
		({
			closed: "cover-closed",
			matchstick: "cover-matchstick",
			pencil: "cover-pencil",
			third: "cover-third",
			half: "cover-half",
			off_at_night: "cover-off-at-night",
			off: "cover-off",
		}) satisfies Record<string, PictogramName> as Record<string, PictogramName>
	)[cover] ?? "cover-closed";

/** What a note says; null for what is no part of a story (a description, a kind that this version does not know). */
export function noteWords(records: Shelves, entry: Entry): NoteWords | null {
	const told = fact[entry.kind]?.(entry, records);
	if (told) return told;
	const note = entry.kind === "record.described" ? text(entry.data.note) : "";
	return note ? { text: note, picture: "go-book" } : null;
}
