import type { ComponentChildren } from "preact";
import { say } from "./say";

/** Words of a botanical name that stand upright: ranks, qualifiers, the cross, "sp.". */
const upright =
	/^(×|x|ex|cf\.|aff\.|or|sp\.|spp\.|subsp\.|ssp\.|var\.|subvar\.|f\.|fo\.|nothosubsp\.|nothovar\.|gx|hort\.|auct\.|agg\.)$/;

/** A name never breaks at its hyphen. */
const unbroken = (text: string) => text.replaceAll("-", "-\u2060");

/** Cut into words, a cultivar in its quotes being one. */
const wordsOf = (name: string) => name.match(/['‘][^'’]+['’]|\S+/g) ?? [];

/** Names in italics; rank, cross, qualifier, cultivar and author upright. */
function italicised(name: string): { text: string; italic: boolean }[] {
	let genusSeen = false;
	const pieces: { text: string; italic: boolean }[] = [];
	for (const word of wordsOf(name)) {
		const lower = /^[a-z×]/.test(word);
		const genus = !genusSeen && /^×?[A-Z]/.test(word);
		const italic = !upright.test(word) && (genus || (lower && genusSeen));
		if (genus) genusSeen = true;
		const last = pieces.at(-1);
		if (last && last.italic === italic) last.text += ` ${word}`;
		else pieces.push({ text: word, italic });
		if (word === "or") genusSeen = false;
	}
	return pieces;
}

/** A botanical name as it is printed. */
export function Taxon({ name }: { name: string }) {
	const children: ComponentChildren[] = [];
	italicised(name).forEach((piece, i) => {
		if (i) children.push(" ");
		children.push(piece.italic ? <i>{unbroken(piece.text)}</i> : unbroken(piece.text));
	});
	return <span class="taxon-name">{children}</span>;
}

export interface Naming {
	taxon: string | null;
	sure?: string | null | undefined;
	qualifier?: string | null | undefined;
	other?: string | null | undefined;
}

/** The name with its qualifier where it belongs: "ex" before it, "cf." before its epithet, "or" between two. */
export function fullName(naming: Naming): string {
	if (!naming.taxon) return "";
	const [genus = "", ...rest] = naming.taxon.split(" ");
	const { qualifier } = naming;
	let name = naming.taxon;
	if (qualifier === "ex") name = `ex ${name}`;
	else if (qualifier) name = [genus, `${qualifier}.`, ...rest].join(" ");
	return naming.other ? `${name} or ${naming.other}` : name;
}

/** A fern's name and how sure: a dotted line under what is not certain; an unknown says so. */
export function FernName({ naming }: { naming: Naming | null }) {
	if (!naming?.taxon) return <span class="unnamed">{say("parts.name.unknown")}</span>;
	const sure = naming.sure === "certain" && !naming.qualifier && !naming.other;
	const name = <Taxon name={fullName(naming)} />;
	return sure || naming.sure === "received" ? name : <span class="unsure">{name}</span>;
}
