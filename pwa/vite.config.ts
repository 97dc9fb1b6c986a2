import { resolve } from "node:path";
import preact from "@preact/preset-vite";
import { defineConfig } from "vite";
import { VitePWA } from "vite-plugin-pwa";

// The page runs under a policy without inline script, inline style or data: addresses, so nothing
// is inlined; the app registers /sw.js itself (through the Trusted Types policy `app`), and the
// web manifest is a plain file in public/.
export default defineConfig({
	plugins: [
		preact(),
		VitePWA({
			strategies: "injectManifest",
			srcDir: "src/service-worker",
			filename: "worker.ts",
			injectRegister: false,
			manifest: false,
			injectManifest: {
				globPatterns: ["**/*.{js,css,html,wasm,svg,png,ico,woff2,webmanifest}"],
				maximumFileSizeToCacheInBytes: 4_000_000,
			},
			integration: {
				// The plugin names the worker after its source; the address that phones know is /sw.js.
				beforeBuildServiceWorker(options) {
					const named = resolve(options.injectManifest.globDirectory ?? options.outDir, "sw.js");
					options.swDest = named;
					options.injectManifest.swDest = named;
				},
			},
		}),
	],
	build: {
		target: "es2022",
		outDir: "dist",
		emptyOutDir: true,
		assetsInlineLimit: 0,
		modulePreload: { polyfill: false },
	},
	// `npm run dev` beside a running `sporeline serve`.
	server: { proxy: { "/api": "http://localhost:8800" } },
});
