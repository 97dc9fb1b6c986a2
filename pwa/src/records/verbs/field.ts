// What one does in the field: log a plant, see its sori, cut, receive, say where it stands.

import type { Id, PhotoNamed } from "../../sync/ports";
import { plainText } from "../search";
import type {
	CutInput,
	Fix,
	GivenName,
	LogPlantInput,
	Saved,
	Verbs,
	WithPlace,
} from "../verb-inputs";
import type { Draft, Making, Write, Writer } from "../writer";

export interface FieldNeeds {
	writer: Writer;
	/** The position the phone has now. */
	position(): Fix | null;
	/** One that comes within two minutes, for what was saved without one. */
	laterPosition(): Promise<Fix | null>;
}

export type FieldVerbs = Pick<
	Verbs,
	"logPlant" | "seeSori" | "nextNumber" | "cut" | "receive" | "fixPlace" | "giveName" | "addPhoto"
>;

export function fieldVerbs(needs: FieldNeeds): FieldVerbs {
	const { writer } = needs;
	return {
		logPlant: (input) => writer.once(["logPlant", input], () => logPlant(needs, input)),
		cut: (input) => writer.once(["cut", input], () => cut(needs, input)),
		receive: (input) =>
			writer.once(["receive", input], () => {
				const packet = writer.needs.ids.uuid();
				return writer.write({
					when: input,
					made: { packet },
					photos: hashes(input.photo),
					drafts: (making) => [
						{ kind: "packet.described", about: packet, data: {} },
						labelled(making, packet, making.label("packet", input.name)),
						{ kind: "packet.received", about: packet, data: receivedData(input) },
						...named(packet, input.naming ?? asReceived(input.asWritten)),
						...photographed(packet, input.photo, input.shows),
					],
				});
			}),
		seeSori: ({ plant, ripeness, way, photo, shows, ...when }) =>
			writer.once(["seeSori", plant, ripeness, way, when], () =>
				writer.write({
					when,
					photos: hashes(photo),
					drafts: () => [
						{ kind: "sori.seen", about: plant, data: { ripeness, way } },
						...photographed(plant, photo, shows),
					],
				}),
			),
		nextNumber: (series) => writer.nextLabel(series),
		fixPlace: (record, fix, audience) =>
			writer.once(["fixPlace", record, fix], () =>
				writer.write({ drafts: () => [placeFixed(record, fix, audience)] }),
			),
		giveName: (record, naming) =>
			writer.once(["giveName", record, naming], () =>
				writer.write({ drafts: () => named(record, naming) }),
			),
		addPhoto: (record, photo, shows) =>
			writer.once(["addPhoto", record, photo.sha256], () =>
				writer.write({ photos: [photo.sha256], drafts: () => photographed(record, photo, shows) }),
			),
	};
}

function logPlant(needs: FieldNeeds, input: LogPlantInput): Promise<Saved> {
	const plant = needs.writer.needs.ids.uuid();
	return withPosition(needs, plant, input.fix, {
		when: input,
		made: { plant },
		photos: hashes(input.photo),
		drafts: (making) => {
			const place = placeFor(needs.writer, making, input);
			return [
				...place.drafts,
				{ kind: "plant.described", about: plant, data: { place: place.id, colony: input.colony } },
				labelled(making, plant, making.label("plant", input.name)),
				...noted(plant, input.note),
				...named(plant, input.naming),
				...sori(plant, input.ripeness),
				...photographed(plant, input.photo, input.shows),
			];
		},
	});
}

function cut(needs: FieldNeeds, input: CutInput): Promise<Saved> {
	const { uuid } = needs.writer.needs.ids;
	const [gathering, packet] = [uuid(), uuid()];
	return withPosition(needs, gathering, input.fix, {
		when: input,
		made: { gathering, packet },
		photos: hashes(input.photo),
		drafts: (making) => {
			const place = placeFor(needs.writer, making, input);
			return [
				...place.drafts,
				{
					kind: "gathering.described",
					about: gathering,
					data: gatheringData(needs, making, input, place.id),
				},
				{
					kind: "frond.cut",
					about: gathering,
					also: [input.plant, place.id],
					data: { taken: input.taken, plants: input.plants },
				},
				...noted(gathering, input.note),
				...named(gathering, input.naming),
				...sori(input.plant ?? gathering, input.ripeness, [gathering]),
				{ kind: "packet.described", about: packet, data: { from: gathering } },
				labelled(making, packet, making.label("packet")),
				...photographed(gathering, input.photo, input.shows),
			];
		},
	});
}

function gatheringData(
	needs: FieldNeeds,
	making: Making,
	input: CutInput,
	place?: Id,
): Draft["data"] {
	const { plant, grown, owner, permit, allows } = input;
	const me = needs.writer.needs.owner()?.name;
	const collectors = input.collectors ?? (me ? [me] : undefined);
	return {
		number: making.label("mine", input.number),
		collectors,
		plant,
		place,
		grown,
		owner,
		permit,
		allows,
	};
}

function receivedData(input: Parameters<Verbs["receive"]>[0]): Draft["data"] {
	const { from, asWritten, year, theirNumber, what, promised } = input;
	return { from, as_written: asWritten, year, their_number: theirNumber, what, promised };
}

/** The position is taken if it is there, never waited for; one that comes soon is added by itself. */
async function withPosition(
	needs: FieldNeeds,
	record: Id,
	wanted: Fix | null | undefined,
	write: Write,
): Promise<Saved> {
	const fix = wanted === undefined ? needs.position() : wanted;
	const { drafts } = write;
	const located = fix ? (making: Making) => [...drafts(making), placeFixed(record, fix)] : drafts;
	const saved = await needs.writer.write({ ...write, drafts: located });
	if (wanted === undefined && !fix) void addLater(needs, record);
	return saved;
}

async function addLater(needs: FieldNeeds, record: Id): Promise<void> {
	const fix = await needs.laterPosition();
	const state = needs.writer.needs.index.folds.get(record)?.record;
	const struckMeanwhile = !state || (state.type === null && state.facts.length === 0);
	if (!fix || struckMeanwhile || state.fields["place.fixed"]) return;
	// The record stands without it: a position that cannot be saved now is no loss of what was said.
	await needs.writer.write({ drafts: () => [placeFixed(record, fix)] }).catch(() => undefined);
}

export function placeFixed(about: Id, fix: Fix, audience: "all" | "growers" = "growers"): Draft {
	const { lat_e7, lon_e7, uncertainty_m, source = "phone" } = fix;
	const data = {
		lat_e7,
		lon_e7,
		uncertainty_m: bounded(uncertainty_m),
		datum: "WGS84",
		source,
		audience,
	};
	return { kind: "place.fixed", about, data };
}

function bounded(uncertainty: number): number {
	return Math.min(100_000, Math.max(1, Math.round(uncertainty)));
}

/** The place named by id, by its words (a known one, or a new one), or that of the plant. */
function placeFor(
	writer: Writer,
	making: Making,
	input: WithPlace & { plant?: Id },
): { id: Id | undefined; drafts: Draft[] } {
	if (input.place) return { id: input.place, drafts: [] };
	const words = input.placeWords?.trim();
	const { folds } = writer.needs.index;
	if (!words) {
		const place = folds.get(input.plant ?? "")?.record.fields["plant.described"]?.place;
		return { id: typeof place === "string" ? place : undefined, drafts: [] };
	}
	for (const { record } of folds.values()) {
		const name = record.fields["record.described"]?.name;
		const same = typeof name === "string" && plainText(name) === plainText(words);
		if (record.type === "place" && same) return { id: record.id, drafts: [] };
	}
	const id = making.id();
	const drafts = [
		{ kind: "place.described", about: id, data: {} },
		{ kind: "record.described", about: id, data: { name: words } },
	];
	return { id, drafts };
}

export function labelled(making: Making, about: Id, name: string): Draft {
	return { kind: "record.described", about, data: { name, code: making.code() } };
}

export function noted(about: Id, note: string | undefined): Draft[] {
	return note ? [{ kind: "record.described", about, data: { note } }] : [];
}

/** All fields of a naming at once, so that none is left of the one before. */
export function named(about: Id, naming: GivenName | undefined): Draft[] {
	if (!naming) return [];
	const { taxon, sure, qualifier = null, other = null, why } = naming;
	return [
		{ kind: "name.given", about, data: { taxon: taxon || null, sure, qualifier, other, why } },
	];
}

function asReceived(asWritten: string | undefined): GivenName | undefined {
	return asWritten ? { taxon: asWritten, sure: "received" } : undefined;
}

function sori(about: Id, ripeness: string | undefined, also: Id[] = []): Draft[] {
	return ripeness ? [{ kind: "sori.seen", about, also, data: { ripeness } }] : [];
}

export function photographed(about: Id, photo: PhotoNamed | undefined, shows?: string): Draft[] {
	if (!photo) return [];
	const { sha256, bytes, type, w, h } = photo;
	return [{ kind: "photo.taken", about, data: { photo: { sha256, bytes, type, w, h }, shows } }];
}

export function hashes(photo: PhotoNamed | undefined): string[] {
	return photo ? [photo.sha256] : [];
}
