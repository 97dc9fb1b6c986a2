// Label codes: five characters drawn at random and a check character (ISO 7064 Mod 37-2).
//
// The check finds every single wrong character and every swap of two neighbours. The alphabet leaves
// out what is misread on a wet label (0 O, 1 I L, U V), so a draw whose check character would fall
// outside it is thrown away.

export const ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ";
const ISO_7064 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";
const LENGTH = 6;

/** The Mod 37-2 check character, one of 37; may fall outside the alphabet of codes. */
export function checkCharacter(five: string): string {
	return ISO_7064.charAt((((1 - 2 * sum(five)) % 37) + 37) % 37);
}

/** The whole code, or null when its check character falls outside the alphabet. */
export function codeOf(five: string): string | null {
	const check = checkCharacter(five);
	return ALPHABET.includes(check) ? five + check : null;
}

/** A code drawn with `draw(n)`, which gives a random whole number from 0 to n - 1. */
export function drawCode(draw: (n: number) => number): string {
	for (;;) {
		const five = Array.from({ length: LENGTH - 1 }, () => ALPHABET.charAt(draw(ALPHABET.length)));
		const code = codeOf(five.join(""));
		if (code !== null) return code;
	}
}

/** Whether this is a good code; small letters, spaces and hyphens are as good. */
export function verify(code: string): boolean {
	const six = plain(code);
	const known = [...six].every((character) => ALPHABET.includes(character));
	return six.length === LENGTH && known && sum(six) % 37 === 1;
}

/** The code as it is kept: capitals, without spaces and hyphens; what else it holds stays. */
export function plain(code: string): string {
	return [...code].map(capital).join("");
}

/** Good codes that differ from this by one wrong character or two swapped neighbours. */
export function suggestions(code: string): string[] {
	const six = [...plain(code)];
	if (six.length !== LENGTH || verify(code)) return [];
	const good = new Set<string>();
	const offer = (each: string) => verify(each) && good.add(each);
	for (let i = 0; i < LENGTH; i++) {
		for (const character of ALPHABET) offer(six.with(i, character).join(""));
		const [one, next] = [six[i], six[i + 1]];
		if (one !== undefined && next !== undefined)
			offer(
				six
					.with(i, next)
					.with(i + 1, one)
					.join(""),
			);
	}
	return [...good].sort();
}

/** By hand, since toUpperCase would also make an S of a long s. */
function capital(character: string): string {
	if (character === " " || character === "-") return "";
	return character >= "a" && character <= "z" ? character.toUpperCase() : character;
}

/** Horner's rule: each character doubled once for each that follows it. */
function sum(characters: string): number {
	let total = 0;
	for (const character of characters) total = total * 2 + ISO_7064.indexOf(character);
	return total;
}
