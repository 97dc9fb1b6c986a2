/** Light, dark and sun (black on white, heavier lines). Follows the phone until someone chooses; the choice is kept. */
import { effect, signal } from "@preact/signals";

export type Theme = "light" | "dark" | "sun";

/** Where the choice is kept; the wiring gives it. `load` answers at once, so that nothing flashes. */
export interface ThemeKeeper {
	load(): string | null;
	keep(chosen: Theme | null): void;
}

const themes: readonly string[] = ["light", "dark", "sun"];

/** What was chosen; null follows the phone. */
export const chosenTheme = signal<Theme | null>(null);
const phoneIsDark = signal(false);

export const theme = (): Theme => chosenTheme.value ?? (phoneIsDark.value ? "dark" : "light");

export function chooseTheme(chosen: Theme | null): void {
	chosenTheme.value = chosen;
}

/** One tap: sun, and back to what it was. */
export function switchSun(): void {
	chooseTheme(theme() === "sun" ? null : "sun");
}

/** Put the theme on the page, follow the phone's own, keep what is chosen; called once by the wiring. */
export function followTheme(keeper: ThemeKeeper): () => void {
	const kept = keeper.load();
	chosenTheme.value = kept && themes.includes(kept) ? (kept as Theme) : null;
	const dark = matchMedia("(prefers-color-scheme: dark)");
	const follow = () => {
		phoneIsDark.value = dark.matches;
	};
	follow();
	dark.addEventListener("change", follow);
	const stops = [
		effect(() => {
			document.documentElement.dataset.theme = theme();
		}),
		effect(() => keeper.keep(chosenTheme.value)),
		() => dark.removeEventListener("change", follow),
	];
	return () => {
		for (const stop of stops) stop();
	};
}
