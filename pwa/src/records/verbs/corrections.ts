// Setting right: descriptions, crossing out, answering questions, putting held entries right.

import { sameValue } from "../../kernel/canonical";
import { type Id, type Json, PhoneError, type StoredEntry } from "../../sync/ports";
import type { Saved, Verbs } from "../verb-inputs";
import { type Draft, strikeOf, type Writer } from "../writer";

/** Kinds whose fields belong together: choosing one version takes all of it. */
const WHOLE = new Set(["name.given", "place.fixed", "place.told", "plan.set"]);

/** The reason that is written when a held entry is replaced. */
const PUT_RIGHT = "put right";

export type CorrectionVerbs = Pick<
	Verbs,
	"describe" | "note" | "strike" | "answerQuestion" | "fixHeld"
>;

export function correctionVerbs(writer: Writer): CorrectionVerbs {
	return {
		describe: (about, kind, data, when) =>
			writer.once(["describe", about, kind, data], () =>
				writer.write({ when, drafts: () => [{ kind, about, data }] }),
			),
		note: (about, kind, data, also, when) =>
			writer.once(["note", about, kind, data, when], () =>
				writer.write({ when, drafts: () => [{ kind, about, also: also ?? [], data }] }),
			),
		strike: async (id, reason) => writer.strikeAll([(await stored(writer, id)).entry], reason),
		answerQuestion: (record, question, value) =>
			writer.once(["answerQuestion", record, question, value], () =>
				answer(writer, record, question, value),
			),
		fixHeld: (id, data, at) =>
			writer.once(["fixHeld", id, data, at], () => putRight(writer, id, data, at)),
	};
}

async function stored(writer: Writer, id: Id): Promise<StoredEntry> {
	const [found] = await writer.needs.store.entries([id]);
	if (!found) throw new PhoneError("no-such-entry");
	return found;
}

/** The answer's `seen` lists all the heads, so the question is closed for everybody. */
async function answer(
	writer: Writer,
	record: Id,
	question: Parameters<Verbs["answerQuestion"]>[1],
	value: Json,
): Promise<Saved> {
	if ("sum" in question) throw new PhoneError("no-such-question");
	const { kind, field, heads } = question;
	const data = WHOLE.has(kind) ? await wholeOf(writer, question, value) : {};
	const draft: Draft = {
		kind,
		about: record,
		data: { ...data, [field]: value },
		seen: { [field]: heads },
	};
	return writer.write({ drafts: () => [draft] });
}

async function wholeOf(
	writer: Writer,
	{ field, heads }: { field: string; heads: Id[] },
	value: Json,
): Promise<Draft["data"]> {
	const entries = await writer.needs.store.entries(heads);
	const chosen = entries.find(({ entry }) => sameValue(entry.data[field] ?? null, value));
	return chosen?.entry.data ?? {};
}

/** The new entry, and the strike of the old one that names it, in one transaction. */
async function putRight(
	writer: Writer,
	id: Id,
	data: { [field: string]: Json },
	at: string | undefined,
): Promise<Saved> {
	const { entry, state } = await stored(writer, id);
	const anew: Draft = {
		kind: entry.kind,
		about: entry.about,
		...(entry.also ? { also: entry.also } : {}),
		at: at ?? entry.at,
		span: entry.span,
		data,
	};
	if (state === "refused") return writer.write({ drafts: () => [anew], replaces: id });
	const instead = writer.needs.ids.uuid();
	const drafts = () => [{ ...anew, id: instead }, strikeOf(entry, PUT_RIGHT, instead)];
	return writer.write({ drafts });
}
