// Reads [[from, to], …] as JSON and writes what the phone makes of each: metres and degrees.
// The phone's module is bundled as the app's build does it; Node alone does not see what the older
// module format of geographiclib-geodesic exports.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "../../pwa/node_modules/vite/dist/node/index.js";

const { output } = await build({
	configFile: false,
	root: fileURLToPath(new URL("../../pwa", import.meta.url)),
	build: { ssr: "src/reckoning/where.ts", write: false },
	ssr: { noExternal: true },
	logLevel: "error",
});
const bundle = Buffer.from(output[0].code).toString("base64");
const { distanceAndBearing } = await import(`data:text/javascript;base64,${bundle}`);
const pairs = JSON.parse(readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(pairs.map(([from, to]) => distanceAndBearing(from, to))));
