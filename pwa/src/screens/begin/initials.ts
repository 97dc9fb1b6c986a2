/** Initials as a name suggests them: first letters of its first and last words, in capitals. */
export function initialsOf(name: string): string {
	const words = name.trim().split(/\s+/).filter(Boolean);
	const chosen = words.length > 1 ? [words[0], words.at(-1)] : words;
	return chosen.map((word) => [...(word ?? "")][0]?.toLocaleUpperCase("en") ?? "").join("");
}

/** One to four letters, in capitals; null where they are not. */
export function asInitials(written: string): string | null {
	const found = written.trim().toLocaleUpperCase("en");
	return /^\p{L}{1,4}$/u.test(found) ? found : null;
}
