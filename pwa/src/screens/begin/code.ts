/** An invitation's code: eight characters of the label alphabet, shown as XXXX-XXXX. */
const alphabet = /^[2-9A-HJKMNP-TV-Z]{8}$/;

/** The code in what was typed, pasted or opened (a whole link too); null where there is none. */
export function invitationCode(written: string): string | null {
	const tail = written.slice(written.lastIndexOf("#") + 1);
	const bare = tail.toUpperCase().replace(/[\s\-–—]/g, "");
	return alphabet.test(bare) ? `${bare.slice(0, 4)}-${bare.slice(4)}` : null;
}
