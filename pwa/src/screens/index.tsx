/** Which screen belongs to an address. Screens load when they are asked for; the offline cache holds them all. */
import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import { useDesk } from "../parts/desk";
import { Waiting } from "../parts/empty";
import { ErrorPart, faultOf } from "../parts/error";
import { Page } from "../parts/page";
import { match, route } from "../parts/route";
import { say } from "../parts/say";

type Screen = ComponentType<{ id: string }>;
type Load = () => Promise<{ default: Screen }>;

/** The only address that is open before anyone has said who they are. */
const join: Load = () => import("./begin/join");
const begin: Load = () => import("./begin/begin");

/** Address patterns, each with the way to its screen; `:id` reaches the screen as a prop. */
const screens: readonly (readonly [string, Load])[] = [
	["/", () => import("./today/today")],
	["/join", join],
	["/answer", () => import("./today/answer")],
	["/bench", () => import("./bench/bench")],
	["/bench/sow", () => import("./bench/sow")],
	["/bench/here", () => import("./bench/here")],
	["/bench/box/:id", () => import("./bench/box")],
	["/bench/shelf/:id", () => import("./bench/round")],
	["/bench/packet/:id", () => import("./bench/packet")],
	["/field", () => import("./field/field")],
	["/field/cut", () => import("./field/cut")],
	["/field/plant", () => import("./field/log-plant")],
	["/field/plant/:id", () => import("./field/plant")],
	["/field/received", () => import("./field/received")],
	["/ahead", () => import("./ahead/ahead")],
	["/book", () => import("./book/book")],
	["/book/record/:id", () => import("./book/record")],
	["/book/questions", () => import("./book/questions")],
	["/book/only-here", () => import("./book/only-here")],
	["/book/fixing", () => import("./book/fixing")],
	["/book/people", () => import("./book/people")],
	["/book/reminders", () => import("./book/reminders")],
	["/book/cautions", () => import("./book/cautions")],
	["/book/about", () => import("./book/about")],
];

/** Kept once loaded, so that going back draws at once. */
const loaded = new Map<Load, Screen>();

function find(path: string): { load: Load; id: string } {
	for (const [pattern, load] of screens) {
		const found = match(pattern, path);
		if (found) return { load, id: found.id ?? "" };
	}
	return { load: screens[0]?.[1] ?? begin, id: "" };
}

function Loading({ load, id }: { load: Load; id: string }) {
	const [, show] = useState<Screen | null>(null);
	const [fault, setFault] = useState<unknown>(null);
	const Shown = loaded.get(load);
	useEffect(() => {
		if (loaded.has(load)) return;
		load().then(
			(module) => {
				loaded.set(load, module.default);
				show(() => module.default);
			},
			(thrown: unknown) => setFault(thrown),
		);
	}, [load]);
	if (Shown) return <Shown key={route.value.path} id={id} />;
	if (fault)
		return (
			<Page title={say("parts.title.not-loaded")}>
				<ErrorPart fault={faultOf(fault)} />
			</Page>
		);
	return <Waiting words={say("parts.waiting")} />;
}

/** The whole app below the wiring: what the state of the desk and the address ask for. */
export function Screens() {
	const desk = useDesk();
	const state = desk.state.value;
	const { path } = route.value;
	if (state === "starting") return <Waiting words={say("parts.waiting")} />;
	if (state === "blocked")
		return (
			<Page title={say("parts.title.blocked")}>
				<ErrorPart fault={{ code: "storage-refused" }} />
			</Page>
		);
	if (state === "unclaimed" && path !== "/join") return <Loading load={begin} id="" />;
	const { load, id } = find(path);
	return <Loading load={load} id={id} />;
}
