/** Who wrote it, and when, as a person reads it. */
import { dayOf, dayShort, timeOf } from "../../parts/dates";
import { say } from "../../parts/say";
import type { Id, Shelves, StoredEntry } from "../../records/desk";

/** Initials of a person, else their name. */
export function whoText(records: Shelves, person: Id | undefined): string {
	const record = person === undefined ? undefined : records.get(person);
	const initials = record?.fields["person.described"]?.initials;
	if (typeof initials === "string" && initials) return initials;
	const name = record?.fields["record.described"]?.name;
	return typeof name === "string" && name ? name : say("book.note.somebody");
}

/** "3 May, 18:40"; the words of a vague date where it has them. */
export function momentText(at: string, today: string, said?: string): string {
	if (said) return said;
	const day = dayShort(dayOf(at), today);
	const time = timeOf(at);
	return time ? say("book.note.moment", { day, time }) : day;
}

export const byText = (records: Shelves, { entry }: StoredEntry, today: string): string =>
	say("book.note.by", {
		who: whoText(records, entry.by),
		when: momentText(entry.at, today, entry.span?.said),
	});
