/** What stands in a form, written through at every change and found again after the app was killed. */
import { type Signal, signal } from "@preact/signals";
import { useEffect, useMemo } from "preact/hooks";
import type { Desk, Json } from "../records/desk";
import { useDesk } from "./desk";

/** Forms of one desk that are open or were; null while the store has not answered yet. */
const forms = new WeakMap<Desk, Map<string, Signal<object | null>>>();

function formOf(desk: Desk, key: string): { form: Signal<object | null>; isNew: boolean } {
	let ofDesk = forms.get(desk);
	if (!ofDesk) {
		ofDesk = new Map();
		forms.set(desk, ofDesk);
	}
	const known = ofDesk.get(key);
	if (known) return { form: known, isNew: false };
	const form = signal<object | null>(null);
	ofDesk.set(key, form);
	return { form, isNew: true };
}

export interface Draft<T extends object> {
	/** null until the store has said whether something was left. */
	value: T | null;
	set(patch: Partial<T>): void;
	/** After the verb has resolved: the form is empty again. */
	drop(): void;
}

/**
 * A form under `key`: what was left in it, else `fresh()`. Fields that an older version left out come from `fresh`.
 * `fresh` must give plain JSON; nothing is kept until something is set.
 */
export function useDraft<T extends object>(key: string, fresh: () => T): Draft<T> {
	const desk = useDesk();
	const { form, isNew } = useMemo(() => formOf(desk, key), [desk, key]);
	useEffect(() => {
		if (!isNew || form.peek() !== null) return;
		const begin = (left: unknown) => {
			form.value ??= { ...fresh(), ...(left && typeof left === "object" ? left : {}) };
		};
		desk.draft.load(key).then(begin, () => begin(null));
	}, [form, isNew, key]);
	return {
		value: form.value as T | null,
		set(patch) {
			form.value = { ...fresh(), ...form.peek(), ...patch };
			desk.draft.keep(key, form.value as Json);
		},
		drop() {
			forms.get(desk)?.delete(key);
			form.value = null;
			desk.draft.drop(key);
		},
	};
}
