/**
 * Writes ../sprite.svg and ../pictogram-names.ts from the drawings beside this file: `node make.mjs`.
 *
 * One sprite that the page refers to with <use> keeps a hundred drawings out of the script, is fetched once,
 * lies in the offline cache like any asset and needs no inserted markup. Line width and colour are inherited
 * from the page, so the three themes need no drawing of their own. What page styles cannot reach inside a
 * <use> (lines that keep their width at every size) is written on the shapes here.
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";

const here = new URL(".", import.meta.url);
const names = readdirSync(here)
	.filter((file) => file.endsWith(".svg"))
	.map((file) => file.slice(0, -4))
	.sort();

const drawing = (name) => {
	const [, inside] = /<svg[^>]*>(.*)<\/svg>/s.exec(
		readFileSync(new URL(`${name}.svg`, here), "utf8"),
	);
	return inside
		.replace(/<title>.*?<\/title>/s, "")
		.replace(/\n\s*/g, "")
		.replace(/<(path|circle|ellipse|rect) /g, '<$1 vector-effect="non-scaling-stroke" ');
};

const symbols = names.map(
	(name) => `<symbol id="${name}" viewBox="0 0 48 48">${drawing(name)}</symbol>`,
);
writeFileSync(
	new URL("../sprite.svg", here),
	`<svg xmlns="http://www.w3.org/2000/svg">\n${symbols.join("\n")}\n</svg>\n`,
);
writeFileSync(
	new URL("../pictogram-names.ts", here),
	`// Written by pictograms/make.mjs.\nexport type PictogramName =\n${names.map((name) => `\t| "${name}"`).join("\n")};\n`,
);
