import { defineConfig } from "vitest/config";

// The root stays pwa/ so that bare imports resolve here; the tests live in ../tests/pwa.
export default defineConfig({
	test: {
		include: ["../tests/pwa/**/*.test.{ts,tsx}"],
		// The app brings the words of a place with its first screen; a test may begin anywhere.
		setupFiles: ["../tests/pwa/all-words.ts"],
	},
	server: { fs: { allow: [".."] } },
	// Component tests run as a browser would: there, names outside pwa/ are looked for here when they are deduped.
	resolve: { dedupe: ["preact", "@preact/signals", "@testing-library/preact"] },
	oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
});
