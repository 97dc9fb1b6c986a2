// Start: the one entry of the page.

import "../parts/styles/index.css";
import { render } from "preact";
import { DeskContext } from "../parts/desk";
import { followHistory, go } from "../parts/route";
import { followTheme } from "../parts/theme";
import type { Desk } from "../records/desk";
import { todayOf } from "../records/local-time";
import { Screens } from "../screens";
import { followInstall } from "../screens/begin/install";
import { themeKeeper } from "../storage/theme";
import { blockedDesk } from "./blocked";
import { Boundary } from "./boundary";
import { clock } from "./machine";
import { type OpenDesk, openDesk } from "./open-desk";
import { Updates } from "./update";

const CLOCK_MS = 20_000;

function show(desk: Desk): void {
	const root = document.getElementById("app");
	if (!root) return;
	render(
		<DeskContext.Provider value={desk}>
			<Boundary>
				<Screens />
			</Boundary>
		</DeskContext.Provider>,
		root,
	);
}

async function start(): Promise<void> {
	followTheme(themeKeeper);
	followHistory();
	followInstall();
	const updates = new Updates();
	let open: OpenDesk;
	try {
		open = await openDesk(updates);
	} catch (error) {
		show(blockedDesk(error, todayOf(clock, null)));
		return;
	}
	show(open.desk);
	await open.core.start();
	follow(open, updates);
	await withSignal(open);
}

/** What makes the phone look again: the clock, the page being seen, a signal, a notice. */
function follow({ core, storage, browser }: OpenDesk, updates: Updates): void {
	setInterval(() => core.lookAtClock(), CLOCK_MS);
	addEventListener("online", () => void core.courier.now());
	document.addEventListener("visibilitychange", () => {
		if (document.visibilityState === "hidden") void storage.drafts.flush();
		else {
			core.lookAtClock();
			updates.look();
			void core.courier.now();
		}
	});
	void updates.begin({
		ready: () => browser({ updateReady: true }),
		exchange: () => void core.courier.now(),
		open: (path) => go(path),
	});
}

/** The first exchange of this start, then what else the server has to say. */
async function withSignal({ core, push, lookAtTime }: OpenDesk): Promise<void> {
	await core.courier.now();
	if (core.safety.value.link !== "online") return;
	await core.lookAtRole();
	await lookAtTime();
	await push.resume();
}

void start();
