/** A cut before it is saved: what was touched stands in a draft, what was not follows what is offered. */
import { useDesk } from "../../parts/desk";
import { type Draft, useDraft } from "../../parts/draft";
import type { Sorus } from "../../reckoning/ferns";
import type {
	CutInput,
	Desk,
	Fix,
	GivenName,
	Id,
	Json,
	Ripeness,
	Taken,
	TakenPhoto,
} from "../../records/desk";
import { type Offer, offerFor } from "./offer";

export interface CutForm extends Offer {
	/** The moment of the first touch; null: nothing has been touched, all of it is an offer. */
	begun: string | null;
	number: string;
	/** Where the phone was when the form was last touched. */
	fix: Fix | null;
	/** A name for this collection; null: the plant's. */
	naming: GivenName | null;
	placeWords: string;
	ripeness: Ripeness | null;
	taken: Taken | null;
	/** Only for the drawings, where the tables do not know the fern. */
	sorus: Sorus | null;
	plants: string;
	collectors: string;
	note: string;
	photo: TakenPhoto | null;
}

export const cutKey = "field.cut";

const untouched = { begun: null, number: "", fix: null, naming: null, placeWords: "" };
const unsaid = {
	ripeness: null,
	taken: null,
	sorus: null,
	plants: "",
	collectors: "",
	note: "",
	photo: null,
};

function offered(desk: Desk, asked: Id | null): CutForm {
	const { fix } = desk.position.value;
	return {
		...untouched,
		...unsaid,
		...offerFor(desk.records.value, fix, desk.today.value, asked),
		number: desk.verbs.nextNumber("mine"),
		fix,
	};
}

export interface Cutting {
	form: CutForm;
	set: (patch: Partial<CutForm>) => void;
	drop: Draft<CutForm>["drop"];
}

/** The cut at hand; null until the draft has been read. `asked`: the plant that the address names. */
export function useCut(asked: Id | null): Cutting | null {
	const desk = useDesk();
	const offer = offered(desk, asked);
	const draft = useDraft<CutForm>(asked ? `${cutKey}.${asked}` : cutKey, () =>
		offered(desk, asked),
	);
	if (draft.value === null) return null;
	const form = draft.value.begun === null ? offer : draft.value;
	return {
		form,
		// The first touch makes all that was offered the form's own: it no longer moves under the thumb.
		set: (patch) =>
			draft.set({
				...form,
				begun: form.begun ?? desk.now(),
				fix: desk.position.peek().fix ?? form.fix,
				...patch,
			}),
		drop: draft.drop,
	};
}

const twoHours = 7_200_000;

/** Begun long before it is saved: the day, hour and position are those of the beginning. */
export const isEarlier = (begun: string | null, now: string): boolean =>
	begun !== null && Date.parse(now) - Date.parse(begun) > twoHours;

/** The fields that hold something. */
type Present<T> = { [K in keyof T]?: Exclude<T[K], null | undefined> };
export function present<T extends object>(fields: T): Present<T> {
	const some = Object.entries(fields).filter(
		([, value]) => value !== null && value !== undefined && value !== "",
	);
	return Object.fromEntries(some) as Present<T>;
}

const whole = (text: string): number | null =>
	/^[1-9]\d{0,4}$/.test(text.trim()) ? Number(text) : null;

const names = (text: string): string[] | null => {
	const found = text
		.split(",")
		.map((name) => name.trim())
		.filter(Boolean);
	return found.length ? found : null;
};

/** What the verb is told; `taken` must have been said. */
export function cutInput(form: CutForm, taken: Taken, now: string): CutInput {
	const earlier = isEarlier(form.begun, now) ? { at: form.begun ?? now, fix: form.fix } : {};
	return {
		number: form.number,
		taken,
		...present({
			plant: form.plant,
			place: form.place,
			naming: form.naming,
			placeWords: form.placeWords.trim(),
			grown: form.grown,
			owner: form.owner.trim(),
			permit: form.permit.trim(),
			allows: form.allows.trim(),
			ripeness: form.ripeness,
			plants: whole(form.plants),
			collectors: names(form.collectors),
			note: form.note.trim(),
			photo: form.photo,
		}),
		...earlier,
	};
}

/** A draft as it is stored; what is not one (an older app's, or broken) counts as none. */
export const beginning = (left: unknown): string | null => {
	const begun = left && typeof left === "object" ? (left as { begun?: Json }).begun : null;
	return typeof begun === "string" ? begun : null;
};
