/** Any note in words, with its drawing. What it says of itself comes first; a kind that is not known says so. */
import { noteWords } from "../../parts/note-words";
import type { PictogramName } from "../../parts/pictogram";
import { say } from "../../parts/say";
import type { Json, Shelves, StoredEntry } from "../../records/desk";
import { isRipeness, ripenessPicture } from "../field/ripeness";
import { fieldText, kindText, valueText } from "./values";

type Entry = StoredEntry["entry"];

export interface Told {
	text: string;
	picture: PictogramName;
}

const text = (value: Json | undefined): string => (typeof value === "string" ? value : "");

const typePictures: Readonly<Record<string, PictogramName>> = {
	plant: "object-plant",
	gathering: "object-collection",
	packet: "object-packet",
	box: "object-box",
	sowing: "object-two-sowings",
	clump: "object-clump",
	pots: "object-pots",
	mix: "object-mix",
	shelf: "object-shelf",
	place: "grown-wild",
	person: "object-label",
	plan: "go-book",
};

export const typePicture = (type: string | null): PictogramName =>
	typePictures[type ?? ""] ?? "object-label";

/** "whose land parish, permission asked": the fields that a description sets. */
function fieldsText(records: Shelves, { kind, data }: Entry): string {
	const said = Object.entries(data).filter(([, value]) => value !== null && value !== "");
	return said
		.map(([field, value]) => `${fieldText(field, kind)}: ${valueText(records, field, value)}`)
		.join("; ");
}

function described(records: Shelves, entry: Entry): Told {
	const what = fieldsText(records, entry);
	return {
		text: what ? say("book.tell.described", { what }) : say("book.tell.described.bare"),
		picture: typePicture(entry.kind.split(".")[0] ?? null),
	};
}

/** Label, note, sameness: what any record may be told. */
function recordTold(records: Shelves, { data }: Entry): Told {
	const name = text(data.name);
	const same = text(data.same_as);
	const said = [
		name && say("book.tell.labelled", { label: name }),
		same && say("book.tell.same", { other: records.labelOf(same) }),
		text(data.note),
	].filter(Boolean);
	return { text: said.join("; ") || say("book.tell.described.bare"), picture: "object-label" };
}

function receivedText({ data }: Entry): string {
	const name = text(data.as_written);
	const from = text(data.from);
	const more = [text(data.year), text(data.their_number), text(data.promised)].filter(Boolean);
	const said = name
		? say(from ? "book.tell.received.from" : "book.tell.received", { name, from })
		: say(from ? "book.tell.received.bare-from" : "book.tell.received.bare", { from });
	return more.length ? say("book.tell.received.more", { said, more: more.join(", ") }) : said;
}

function cutText(records: Shelves, { data }: Entry): string {
	const taken = valueText(records, "taken", data.taken ?? null);
	return typeof data.plants === "number"
		? say("book.tell.cut.plants", { taken, n: data.plants })
		: say("book.tell.cut", { taken });
}

const tellings: Readonly<Record<string, (records: Shelves, entry: Entry) => Told>> = {
	"record.described": recordTold,
	"sori.seen": (records, { data }) => ({
		text: say("book.tell.sori", {
			ripeness: valueText(records, "ripeness", data.ripeness ?? null),
		}),
		picture: (isRipeness(data.ripeness) && ripenessPicture(data.ripeness, null)) || "object-lens",
	}),
	"frond.cut": (records, entry) => ({
		text: cutText(records, entry),
		picture: "object-collection",
	}),
	"packet.received": (_, entry) => ({ text: receivedText(entry), picture: "object-received" }),
	"place.fixed": (_, { data }) => ({
		text:
			data.lat_e7 === null
				? say("book.tell.fixed.cleared")
				: say("book.tell.fixed", { m: Number(data.uncertainty_m ?? 0) }),
		picture: "grown-wild",
	}),
	"place.told": (_, { data }) => ({
		text: say("book.tell.told", { m: Number(data.uncertainty_m ?? 0) }),
		picture: "grown-wild",
	}),
	"entry.struck": (_, { data }) => ({
		text: say("book.tell.struck", { reason: text(data.reason) }),
		picture: "do-cross-out",
	}),
	"plan.set": () => ({ text: say("book.tell.plan"), picture: "go-book" }),
};

export function tell(records: Shelves, entry: Entry): Told {
	const own = tellings[entry.kind]?.(records, entry) ?? noteWords(records, entry);
	// A note that is held may lack what its words are made of.
	if (own) return own.text ? own : { ...own, text: kindText(entry.kind) };
	if (entry.kind.endsWith(".described")) return described(records, entry);
	return { text: say("book.tell.unknown", { kind: entry.kind }), picture: "do-which" };
}
