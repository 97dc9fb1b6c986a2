/** Where one is: the address of the page, kept by the browser's own history, so that back always works. */
import { signal } from "@preact/signals";
import type { ComponentChildren } from "preact";

export interface Place {
	path: string;
	query: URLSearchParams;
}

const here = (): Place => ({
	path: location.pathname,
	query: new URLSearchParams(location.search),
});

export const route = signal<Place>(here());

/** Follow the browser's back and forward; called once by the wiring. Returns the way to stop. */
export function followHistory(): () => void {
	const follow = () => {
		route.value = here();
	};
	addEventListener("popstate", follow);
	return () => removeEventListener("popstate", follow);
}

/** Go to a screen. `replace` leaves no step to come back to. */
export function go(to: string, { replace = false }: { replace?: boolean } = {}): void {
	if (replace) history.replaceState({ inside: true }, "", to);
	else history.pushState({ inside: true }, "", to);
	route.value = here();
}

/** One step back, or to `otherwise` where this screen was the first. */
export function back(otherwise = "/"): void {
	if (history.state?.inside) history.back();
	else go(otherwise, { replace: true });
}

/** Values of the `:names` in a pattern, or null where the path is another. */
export function match(pattern: string, path: string): Record<string, string> | null {
	const want = pattern.split("/").filter(Boolean);
	const have = path.split("/").filter(Boolean);
	if (want.length !== have.length) return null;
	const found: Record<string, string> = {};
	for (const [i, part] of want.entries()) {
		const piece = decodeURIComponent(have[i] ?? "");
		if (part.startsWith(":")) found[part.slice(1)] = piece;
		else if (part !== piece) return null;
	}
	return found;
}

const plainClick = (event: MouseEvent) =>
	event.button === 0 && !event.metaKey && !event.ctrlKey && !event.shiftKey && !event.altKey;

export interface LinkProps {
	to: string;
	class?: string | undefined;
	"aria-label"?: string | undefined;
	"aria-current"?: "page" | "true" | undefined;
	children?: ComponentChildren;
}

/** A link inside the app: a true address, followed without a load. */
export function Link({ to, children, ...rest }: LinkProps) {
	return (
		<a
			{...rest}
			href={to}
			onClick={(event) => {
				if (!plainClick(event)) return;
				event.preventDefault();
				go(to);
			}}
		>
			{children}
		</a>
	);
}
