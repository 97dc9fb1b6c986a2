// What one does at the bench: shelves, boxes, mixes, sowings, rounds, growth, lids, troubles.

import type { Id } from "../../sync/ports";
import type { Shelves } from "../desk";
import type { Part, Saved, SowInput, Verbs, When } from "../verb-inputs";
import type { Draft, Making, Writer } from "../writer";
import { hashes, labelled, named, noted, photographed } from "./field";

/** `also` holds at most this many records. */
const MOST_ALSO = 200;
const PARTS: Part[] = ["a", "b", "c", "d", "e", "f", "g", "h"];

export type BenchVerbs = Pick<
	Verbs,
	| "sow"
	| "makeShelf"
	| "makeBox"
	| "placeBox"
	| "makeMix"
	| "walkShelf"
	| "seeGrowth"
	| "beginTrouble"
	| "endTrouble"
	| "setCover"
>;

export function benchVerbs(writer: Writer, shelves: () => Shelves): BenchVerbs {
	return { ...makingVerbs(writer), ...seeingVerbs(writer, shelves) };
}

function makingVerbs(writer: Writer): Pick<Verbs, "makeShelf" | "makeBox" | "makeMix"> {
	const { uuid } = writer.needs.ids;
	return {
		makeShelf: (input) =>
			writer.once(["makeShelf", input], () => {
				const shelf = uuid();
				const { stands, light, facing } = input;
				return writer.write({
					made: { shelf },
					drafts: (making) => [
						{ kind: "shelf.described", about: shelf, data: { stands, light, facing } },
						labelled(making, shelf, making.label("shelf", input.name || undefined)),
					],
				});
			}),
		makeBox: (input) =>
			writer.once(["makeBox", input], () => {
				const box = uuid();
				const drafts = (making: Making) => newBox(making, box, input);
				return writer.write({ made: { box }, drafts });
			}),
		makeMix: (input) =>
			writer.once(["makeMix", input], () => {
				const mix = uuid();
				const { recipe, heated } = input;
				return writer.write({
					made: { mix },
					drafts: (making) => [
						{ kind: "mix.described", about: mix, data: { recipe, heated } },
						labelled(making, mix, making.label("mix", input.name || undefined)),
					],
				});
			}),
	};
}

function seeingVerbs(
	writer: Writer,
	shelves: () => Shelves,
): Omit<BenchVerbs, "makeShelf" | "makeBox" | "makeMix"> {
	const fact = (draft: Draft, when: When = {}) =>
		writer.once([draft, when], () => writer.write({ when, drafts: () => [draft] }));
	return {
		sow: (input) => writer.once(["sow", input], () => sow(writer, shelves(), input)),
		placeBox: (box, shelf, placeNo) => fact(placed(box, shelf, placeNo)),
		walkShelf: (shelf, when = {}) =>
			writer.once(["walkShelf", shelf, when], () =>
				writer.write({ when, drafts: () => walked(shelf, shelves()) }),
			),
		seeGrowth: (about, growth, amount, when) => {
			const also = [boxOf(shelves(), about)];
			return fact({ kind: "growth.seen", about, also, data: { growth, amount } }, when);
		},
		beginTrouble: (about, trouble, when) =>
			fact({ kind: "trouble.begun", about, data: { trouble } }, when),
		endTrouble: (about, trouble, when) =>
			fact({ kind: "trouble.ended", about, data: { trouble } }, when),
		setCover: (box, cover, when) => fact({ kind: "cover.set", about: box, data: { cover } }, when),
	};
}

function sow(writer: Writer, shelves: Shelves, input: SowInput): Promise<Saved> {
	const { uuid } = writer.needs.ids;
	const [box, sowing] = [input.box ?? uuid(), uuid()];
	return writer.write({
		when: input,
		made: { box, sowing },
		photos: hashes(input.photo),
		drafts: (making) => [
			...(input.box ? [] : newBox(making, box, { name: input.boxName, ...input })),
			{ kind: "sowing.described", about: sowing, data: sowingData(input, box, shelves) },
			...(input.already ? [] : [sown(input, box, sowing)]),
			...named(sowing, input.naming),
			...noted(sowing, input.note),
			...photographed(box, input.photo, input.shows),
		],
	});
}

function sowingData(input: SowInput, box: Id, shelves: Shelves): Draft["data"] {
	const { packets, mix, control, together } = input;
	return { box, part: input.part ?? freePart(shelves, box), packets, mix, control, together };
}

/** A second sowing in a box gets a letter of its own. */
function freePart(shelves: Shelves, box: Id): Part | undefined {
	const there = shelves.sowingsIn(box);
	if (!there.length) return undefined;
	const used = new Set(there.map((sowing) => sowing.fields["sowing.described"]?.part));
	const unlettered = there.some((sowing) => !sowing.fields["sowing.described"]?.part);
	return PARTS.slice(unlettered ? 1 : 0).find((part) => !used.has(part));
}

function sown({ packets, mix, density, control }: SowInput, box: Id, about: Id): Draft {
	const data = control ? {} : { density };
	return { kind: "spores.sown", about, also: [box, ...packets, mix], data };
}

interface NewBox {
	name?: string | undefined;
	vessel?: string;
	shelf?: Id;
	placeNo?: number;
}

function newBox(making: Making, box: Id, { name, vessel, shelf, placeNo }: NewBox): Draft[] {
	return [
		{ kind: "box.described", about: box, data: { vessel } },
		labelled(making, box, making.label("box", name || undefined)),
		...(shelf ? [placed(box, shelf, placeNo)] : []),
	];
}

function placed(box: Id, shelf: Id, placeNo?: number): Draft {
	return { kind: "box.placed", about: box, also: [shelf], data: { shelf, place_no: placeNo } };
}

/** One dated look at every box on the shelf. */
export function walked(shelf: Id, shelves: Shelves): Draft[] {
	const boxes = shelves.boxesOn(shelf).map(({ id }) => id);
	const drafts: Draft[] = [];
	for (let i = 0; i === 0 || i < boxes.length; i += MOST_ALSO)
		drafts.push({
			kind: "shelf.walked",
			about: shelf,
			also: boxes.slice(i, i + MOST_ALSO),
			data: {},
		});
	return drafts;
}

export function boxOf(shelves: Shelves, sowing: Id): Id | undefined {
	const box = shelves.get(sowing)?.fields["sowing.described"]?.box;
	return typeof box === "string" ? box : undefined;
}
