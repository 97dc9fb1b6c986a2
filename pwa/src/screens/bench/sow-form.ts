/** A sowing day as a form: what is chosen so far, and which step is now. Plain values, kept as a draft. */
import type { SowInput } from "../../records/desk";

export type SowStep = "packet" | "shelf" | "mix" | "clean" | "density" | "label" | "close";
export type Density = NonNullable<SowInput["density"]>;

export interface SowForm {
	/** A sitting ends with its day: mix and clean bench are asked again on the next. */
	day: string;
	/** Packets of this box; two only on purpose. */
	packets: string[];
	/** Nothing is sown: it shows what comes up by itself. */
	control: boolean;
	/** The box as it stands on the label, shown before saving. */
	number: string;
	/** The other half of a box that was sown just now. */
	half: { box: string; label: string } | null;
	/** Two ferns on purpose: each in its half, or mixed. */
	sharing: "halves" | "together" | null;
	shelf: string | null;
	mix: string | null;
	mixAsked: boolean;
	clean: boolean;
	density: Density | null;
	labelled: boolean;
	/** Boxes sown in this sitting. */
	sown: number;
}

export const freshForm = (day: string, number: string): SowForm => ({
	day,
	packets: [],
	control: false,
	number,
	half: null,
	sharing: null,
	shelf: null,
	mix: null,
	mixAsked: false,
	clean: false,
	density: null,
	labelled: false,
	sown: 0,
});

/** How many packets this box is to have. */
const wanted = (form: SowForm): number => (form.sharing === "together" ? 2 : 1);

/** The steps of this box, in the order of the bench. A half stands where its box stands. */
export function stepsOf(form: SowForm): SowStep[] {
	const steps: SowStep[] = ["packet", "shelf", "mix", "clean", "density", "label", "close"];
	return steps.filter(
		(step) => !(step === "density" && form.control) && !(step === "shelf" && form.half),
	);
}

export function isDone(form: SowForm, step: SowStep): boolean {
	if (step === "packet") return form.control || form.packets.length >= wanted(form);
	if (step === "shelf") return form.shelf !== null;
	if (step === "mix") return form.mixAsked;
	if (step === "clean") return form.clean;
	if (step === "density") return form.density !== null;
	return step === "label" && form.labelled;
}

export const stepNow = (form: SowForm): SowStep =>
	stepsOf(form).find((step) => !isDone(form, step)) ?? "close";

/** What undoing a step forgets, so that it is asked again. */
export function reopened(form: SowForm, step: SowStep): Partial<SowForm> {
	if (step === "packet") return { packets: [], control: false };
	if (step === "shelf") return { shelf: null };
	if (step === "mix") return { mix: null, mixAsked: false };
	if (step === "clean") return { clean: false };
	if (step === "density") return { density: null };
	return form.labelled ? { labelled: false } : {};
}

/** What is handed to the verb. */
export function sowInput(form: SowForm): SowInput {
	return {
		packets: form.packets,
		...(form.half ? { box: form.half.box, part: "b" } : { boxName: form.number }),
		...(!form.half && form.sharing === "halves" ? { part: "a" } : {}),
		...(form.sharing === "together" ? { together: true } : {}),
		...(form.shelf && !form.half ? { shelf: form.shelf } : {}),
		...(form.mix ? { mix: form.mix } : {}),
		...(form.density ? { density: form.density } : {}),
		...(form.control ? { control: true } : {}),
	};
}

/** The form for the next box: shelf, mix and the clean bench stay. After a first half comes the second. */
export function nextForm(form: SowForm, box: string | undefined, number: string): SowForm {
	const second = form.sharing === "halves" && !form.half && box;
	return {
		...freshForm(form.day, number),
		half: second ? { box, label: form.number } : null,
		shelf: form.shelf,
		mix: form.mix,
		mixAsked: form.mixAsked,
		clean: true,
		sown: form.sown + (form.half ? 0 : 1),
	};
}
