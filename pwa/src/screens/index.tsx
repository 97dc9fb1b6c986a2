/** Which screen belongs to an address. Screens load when they are asked for; the offline cache holds them all. */
import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import { type Chapter, learn } from "../parts/catalogue";
import { useDesk } from "../parts/desk";
import { Waiting } from "../parts/empty";
import { ErrorPart, faultOf } from "../parts/error";
import { Page } from "../parts/page";
import { match, route } from "../parts/route";
import { say } from "../parts/say";

type Screen = ComponentType<{ id: string }>;
type Load = () => Promise<{ default: Screen }>;

/** A screen comes with the chapters of words that it speaks. */
const spoken =
	(load: Load, ...words: Chapter[]): Load =>
	async () => {
		const [screen] = await Promise.all([load(), learn(words)]);
		return screen;
	};

/** The only address that is open before anyone has said who they are. */
const join = spoken(() => import("./begin/join"), "begin");
const begin = spoken(() => import("./begin/begin"), "begin");

/** Address patterns, each with the way to its screen; `:id` reaches the screen as a prop. */
const screens: readonly (readonly [string, Load])[] = [
	["/", spoken(() => import("./today/today"))],
	["/join", join],
	["/answer", spoken(() => import("./today/answer"))],
	["/bench", spoken(() => import("./bench/bench"), "bench")],
	["/bench/sow", spoken(() => import("./bench/sow"), "bench")],
	["/bench/here", spoken(() => import("./bench/here"), "bench")],
	["/bench/box/:id", spoken(() => import("./bench/box"), "bench")],
	["/bench/shelf/:id", spoken(() => import("./bench/round"), "bench")],
	["/bench/packet/:id", spoken(() => import("./bench/packet"), "bench")],
	["/field", spoken(() => import("./field/field"), "field", "begin")],
	["/field/cut", spoken(() => import("./field/cut"), "field")],
	["/field/plant", spoken(() => import("./field/log-plant"), "field")],
	["/field/plant/:id", spoken(() => import("./field/plant"), "field")],
	["/field/received", spoken(() => import("./field/received"), "field")],
	["/ahead", spoken(() => import("./ahead/ahead"), "ahead")],
	["/book", spoken(() => import("./book/book"), "book", "field")],
	["/book/record/:id", spoken(() => import("./book/record"), "book", "field")],
	["/book/questions", spoken(() => import("./book/questions"), "book", "field")],
	["/book/only-here", spoken(() => import("./book/only-here"), "book", "field")],
	["/book/fixing", spoken(() => import("./book/fixing"), "book", "field")],
	["/book/people", spoken(() => import("./book/people"), "book", "field")],
	["/book/reminders", spoken(() => import("./book/reminders"), "book", "field")],
	["/book/cautions", spoken(() => import("./book/cautions"), "book", "field")],
	["/book/about", spoken(() => import("./book/about"), "book", "begin")],
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
