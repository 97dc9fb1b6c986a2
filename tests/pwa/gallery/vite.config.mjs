import { createRequire } from "node:module";
import { resolve } from "node:path";

// Run from pwa/: npx vite --config ../tests/pwa/gallery/vite.config.mjs --host 127.0.0.1
const here = import.meta.dirname;
const app = resolve(here, "../../../pwa");
const { preact } = createRequire(`${app}/`)("@preact/preset-vite");

/** Bare names mean what they mean in the app: its packages are the only ones installed. */
const asInTheApp = {
	name: "as-in-the-app",
	enforce: "pre",
	resolveId(name, importer) {
		if (!importer?.startsWith(resolve(here, "..")) || /^[./\0]/.test(name)) return null;
		return this.resolve(name, `${app}/src/app/main.tsx`, { skipSelf: true });
	},
};

export default {
	root: here,
	cacheDir: `${app}/node_modules/.vite-gallery`,
	plugins: [asInTheApp, preact({ devToolsEnabled: false, prefreshEnabled: false })],
	optimizeDeps: { noDiscovery: true, include: [] },
	server: { hmr: false, fs: { allow: [resolve(here, "../../..")] } },
};
