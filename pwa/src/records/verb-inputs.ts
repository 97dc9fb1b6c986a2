// What a person does, and what the phone must be told for it. Types only.

import type { FoldedRecord, Id, Json, PhotoNamed, Task } from "../sync/ports";

/** A verb resolves when the strict transaction is complete: then, and only then, say "saved". */
export interface Saved {
	/** Records that were made, by role: {gathering, packet, box, …}. */
	made: { [role: string]: Id };
	/** The entries that were written, in order. */
	ids: Id[];
	/** Cross out all of it, with a reason. */
	undo(reason: string): Promise<Saved>;
}

/** A position as the phone gave it. 1e-7 degrees, WGS84, whole metres. */
export interface Fix {
	lat_e7: number;
	lon_e7: number;
	uncertainty_m: number;
	/** Local time text of the fix. */
	at: string;
	source?: "phone" | "map" | "typed";
}

export type Sure = "certain" | "probable" | "received" | "unknown";
export type Qualifier = "cf" | "aff" | "ex";
export type Ripeness = "none" | "young" | "turning" | "ripe" | "spent" | "unseen";
export type Growth = "nothing" | "green_film" | "prothalli" | "first_fronds" | "winter_rest";
export type Amount = "few" | "some" | "many";
export type Cover = "closed" | "matchstick" | "pencil" | "third" | "half" | "off_at_night" | "off";
export type Trouble =
	| "mould"
	| "slime"
	| "moss"
	| "liverwort"
	| "gnats"
	| "too_wet"
	| "dry"
	| "stray"
	| "flopped";
export type Vessel = "box" | "pot" | "tub" | "jar" | "dish" | "tray";
export type Taken = "pinna" | "part" | "frond" | "more";
export type Grown = "wild" | "garden" | "unknown";
export type Part = "a" | "b" | "c" | "d" | "e" | "f" | "g" | "h";

/** "mine" is the collector's number (initials and a running number). */
export type Series = "mine" | "box" | "packet" | "plant" | "pots" | "mix" | "shelf";

export interface GivenName {
	taxon: string | null;
	sure: Sure;
	qualifier?: Qualifier | null;
	other?: string | null;
	why?: string;
}

/** When it happened, where that is not now: a date, or a vague one with its words. */
export interface When {
	at?: string;
	span?: { to: string; said: string };
}

/** undefined = take the phone's own position if it has one; null = none wanted. */
export interface WithFix {
	fix?: Fix | null;
}

export interface WithPlace {
	place?: Id;
	/** Words only: the place of that name, or a new one. */
	placeWords?: string;
}

export interface WithPhoto {
	photo?: PhotoNamed;
	shows?: string;
}

export interface ClaimInput {
	name: string;
	initials: string;
	deviceLabel?: string;
}
export interface JoinInput {
	code?: string;
	link?: string;
	name?: string;
	initials?: string;
	deviceLabel?: string;
	/** This phone already belongs to another logbook: offer all of it to the one joined now. */
	bringAll?: boolean;
}
export interface LogPlantInput extends When, WithFix, WithPlace, WithPhoto {
	name?: string;
	naming?: GivenName;
	colony?: boolean;
	ripeness?: Ripeness;
	note?: string;
}
export interface SeeSoriInput extends When, WithPhoto {
	plant: Id;
	ripeness: Ripeness;
	way?: "eye" | "lens" | "dust";
}
export interface CutInput extends When, WithFix, WithPlace, WithPhoto {
	number: string;
	plant?: Id;
	naming?: GivenName;
	taken: Taken;
	grown?: Grown;
	owner?: string;
	permit?: string;
	allows?: string;
	plants?: number;
	ripeness?: Ripeness;
	collectors?: string[];
	note?: string;
}
export interface ReceiveInput extends When, WithPhoto {
	/** The name as written; may stay in the photo. */
	asWritten?: string;
	from?: string;
	year?: string;
	theirNumber?: string;
	what?: "spores" | "plants" | "division";
	promised?: string;
	naming?: GivenName;
	name?: string;
}
export interface SowInput extends When, WithPhoto {
	packets: Id[];
	box?: Id;
	/** Name of a new box; without it the next number. The next number given here is used up. */
	boxName?: string;
	vessel?: Vessel;
	shelf?: Id;
	mix?: Id;
	density?: "thin" | "right" | "thick";
	control?: boolean;
	together?: boolean;
	part?: Part;
	note?: string;
	/** Stands here already, its day not known: box and sowing, but nothing is said to be sown now. */
	already?: boolean;
	/** What grows in it, where no packet says so. */
	naming?: GivenName;
}
export interface MakeShelfInput {
	name: string;
	stands: "shelf" | "sill";
	light?: "window" | "lamps";
	facing?: "N" | "NE" | "E" | "SE" | "S" | "SW" | "W" | "NW";
}
export interface MakeBoxInput {
	name?: string;
	vessel?: Vessel;
	shelf?: Id;
	placeNo?: number;
}
export interface PersonInput {
	name?: string;
	initials?: string;
	notice_at?: string;
	zone?: string;
	quiet?: { from: string; to: string };
	away?: { from: string; to: string }[];
	detail?: boolean;
}
export interface AnswerOptions extends When {
	/** Which sowing in a box with several. */
	sowing?: Id;
	/** With "later": the day on which to ask again. */
	until?: string;
}

export interface Verbs {
	claim(input: ClaimInput): Promise<Saved>;
	join(input: JoinInput): Promise<void>;

	/** A description: fills `seen` from the heads that this phone sees. Works for every description kind. */
	describe(record: Id, kind: string, data: { [field: string]: Json }, when?: When): Promise<Saved>;
	/** Any fact about a record. */
	note(
		about: Id,
		kind: string,
		data: { [field: string]: Json },
		also?: Id[],
		when?: When,
	): Promise<Saved>;

	logPlant(input: LogPlantInput): Promise<Saved>;
	seeSori(input: SeeSoriInput): Promise<Saved>;
	/** The number that would be taken next, as it stands on the label: "MV 28", "box 31". */
	nextNumber(series: Series): string;
	/** Gathering, cut, packet from it (and sori, name, photo, position where given) in one transaction. */
	cut(input: CutInput): Promise<Saved>;
	receive(input: ReceiveInput): Promise<Saved>;
	fixPlace(record: Id, fix: Fix, audience?: "all" | "growers"): Promise<Saved>;
	giveName(record: Id, naming: GivenName): Promise<Saved>;

	sow(input: SowInput): Promise<Saved>;
	makeShelf(input: MakeShelfInput): Promise<Saved>;
	makeBox(input: MakeBoxInput): Promise<Saved>;
	placeBox(box: Id, shelf: Id, placeNo?: number): Promise<Saved>;
	makeMix(input: { name?: string; recipe?: string; heated?: string }): Promise<Saved>;

	/** The one-tap answer: makes the entries that the care plan names for this code. */
	answer(task: Task, code: string, options?: AnswerOptions): Promise<Saved>;
	walkShelf(shelf: Id, when?: When): Promise<Saved>;
	seeGrowth(sowing: Id, growth: Growth, amount?: Amount, when?: When): Promise<Saved>;
	beginTrouble(about: Id, trouble: Trouble, when?: When): Promise<Saved>;
	endTrouble(about: Id, trouble: Trouble, when?: When): Promise<Saved>;
	setCover(box: Id, cover: Cover, when?: When): Promise<Saved>;

	/** Cross an entry out; it stays readable. Crossing out a crossing-out brings it back. */
	strike(entry: Id, reason: string): Promise<Saved>;
	answerQuestion(
		record: Id,
		question: FoldedRecord["questions"][number],
		value: Json,
	): Promise<Saved>;
	/** A held entry, put right: the new entry and the strike of the old in one transaction. */
	fixHeld(entry: Id, data: { [field: string]: Json }, at?: string): Promise<Saved>;

	setPerson(data: PersonInput): Promise<Saved>;
	addPhoto(record: Id, photo: PhotoNamed, shows?: string): Promise<Saved>;
	/** Hand a shelf or box to somebody for some days. */
	setKeeper(record: Id, keeper: { person: Id; from?: string; to?: string }[]): Promise<Saved>;
}
