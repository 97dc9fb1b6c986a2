import { defineConfig } from "vitest/config";

// The root stays pwa/ so that bare imports resolve here; the tests live in ../tests/pwa.
export default defineConfig({
	test: { include: ["../tests/pwa/**/*.test.{ts,tsx}"] },
	server: { fs: { allow: [".."] } },
});
