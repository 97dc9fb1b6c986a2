/** The screens on a fake desk, for looking at: /bench?scene=busy&theme=dark. No part of the app's bundle. */
import { render } from "preact";
import { DeskContext } from "../../../pwa/src/parts/desk";
import { followHistory } from "../../../pwa/src/parts/route";
import "../../../pwa/src/parts/styles/index.css";
import { chooseTheme, followTheme, type Theme } from "../../../pwa/src/parts/theme";
import { Screens } from "../../../pwa/src/screens";
import { bookScenes } from "../book/scenes";
import { fieldScenes } from "../field/scenes";
import { fakeDesk } from "./fake-desk";
import { scenes } from "./scenes";

const asked = new URLSearchParams(location.search);
followHistory();
followTheme({ load: () => null, keep: () => {} });
const theme = asked.get("theme");
if (theme) chooseTheme(theme as Theme);
const scene = asked.get("scene") ?? "busy";
const desk = (fieldScenes[scene] ?? bookScenes[scene])?.() ?? fakeDesk(scenes[scene]);
const app = document.getElementById("app");
if (app)
	render(
		<DeskContext.Provider value={desk}>
			<Screens />
		</DeskContext.Provider>,
		app,
	);
