// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen } from "@testing-library/preact";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { DeskContext } from "../../../pwa/src/parts/desk";
import { ageText, OnlyHere } from "../../../pwa/src/parts/only-here";
import { back, followHistory, go, Link, match, route } from "../../../pwa/src/parts/route";
import { hideSaved, SavedStrip, save, showSaved } from "../../../pwa/src/parts/saved-strip";
import { say } from "../../../pwa/src/parts/say";
import { chooseTheme, chosenTheme, followTheme, switchSun } from "../../../pwa/src/parts/theme";
import type { Saved } from "../../../pwa/src/records/desk";
import { fakeDesk } from "../gallery/fake-desk";

beforeEach(hideSaved);
afterEach(cleanup);

describe("route", () => {
	test("a pattern gives its names, another path nothing", () => {
		expect(match("/bench/box/:id", "/bench/box/a%20b")).toEqual({ id: "a b" });
		expect(match("/bench/box/:id", "/bench/box")).toBeNull();
		expect(match("/", "/")).toEqual({});
	});

	test("going keeps an address that the browser can come back to", () => {
		const stop = followHistory();
		go("/bench?x=1");
		expect(route.value.path).toBe("/bench");
		expect(location.pathname).toBe("/bench");
		expect(route.value.query.get("x")).toBe("1");
		history.replaceState(null, "", "/field");
		dispatchEvent(new PopStateEvent("popstate"));
		expect(route.value.path).toBe("/field");
		stop();
	});

	test("back from a first screen leads to where one would look for it", () => {
		history.replaceState(null, "", "/bench/box/1");
		back("/bench");
		expect(route.value.path).toBe("/bench");
	});

	test("a link is a true address; a new tab is left to the browser", () => {
		go("/");
		render(<Link to="/book">Book</Link>);
		const link = screen.getByRole("link", { name: "Book" });
		expect(link.getAttribute("href")).toBe("/book");
		fireEvent.click(link, { ctrlKey: true });
		expect(route.value.path).toBe("/");
		fireEvent.click(link);
		expect(route.value.path).toBe("/book");
	});
});

describe("what exists only here", () => {
	test.each([
		[30_000, "now"],
		[5 * 60_000, "5 min"],
		[5 * 3_600_000, "5 h"],
		[3 * 86_400_000, "3 d"],
	])("%i ms is %s", (ms, words) => expect(ageText(ms)).toBe(words));

	const corner = (unsent: number, oldestUnsentMs: number | null) => {
		render(
			<DeskContext.Provider value={fakeDesk({ safety: { unsent, oldestUnsentMs } })}>
				<OnlyHere />
			</DeskContext.Provider>,
		);
		return screen.getByRole("link");
	};

	test("says how many, for how long, and leads to them", () => {
		const link = corner(7, 5 * 3_600_000);
		expect(link.getAttribute("aria-label")).toBe(say("parts.only-here.some", { n: 7, age: "5 h" }));
		expect(link.getAttribute("href")).toBe("/book/only-here");
		expect(link.className).toBe("only");
	});

	test("is heavy when older than a day, and a tick when nothing is left", () => {
		expect(corner(7, 2 * 86_400_000).className).toContain("old");
		cleanup();
		const none = corner(0, null);
		expect(none.getAttribute("aria-label")).toBe(say("parts.only-here.none"));
		expect(none.textContent).toBe("");
	});
});

describe("the saved strip", () => {
	const saved = (undo: () => Promise<Saved>): Saved => ({ made: {}, ids: [], undo });

	test("appears when the verb is done, not before, and crosses out all of it", async () => {
		const undo = vi.fn(async () => saved(undo));
		let done: (value: Saved) => void = () => {};
		render(<SavedStrip />);
		const saving = save("Box 31: green film.", () => new Promise((resolve) => (done = resolve)));
		expect(screen.queryByText(/Box 31/)).toBeNull();
		done(saved(undo));
		await saving;
		expect((await screen.findByRole("status")).textContent).toContain(say("parts.saved.here"));
		fireEvent.click(screen.getByRole("button", { name: say("parts.saved.cross-out") }));
		expect(undo).toHaveBeenCalledWith(say("parts.saved.reason"));
		await screen.findByText(say("parts.saved.crossed-out"));
	});

	test("leaves when its time is over", async () => {
		render(<SavedStrip />);
		showSaved({ words: "Box 31: mould.", crossOut: null });
		const strip = (await screen.findByText(/mould/)).closest(".strip") as Element;
		const ended = (animationName: string) =>
			fireEvent(strip, Object.assign(new Event("animationend"), { animationName }));
		ended("strip-come");
		expect(screen.queryByText(/mould/)).not.toBeNull();
		ended("strip-time");
		await vi.waitFor(() => expect(screen.queryByText(/mould/)).toBeNull());
	});

	test("two taps write once", async () => {
		const verb = vi.fn(async () => saved(vi.fn()));
		await Promise.all([save("once", verb), save("once", verb)]);
		expect(verb).toHaveBeenCalledTimes(1);
	});

	test("what did not work says what happened, what is safe, what to do; nothing is called saved", async () => {
		render(<SavedStrip />);
		const answer = await save("never", async () => {
			throw { code: "storage-full", message: "no room" };
		});
		expect(answer).toBeNull();
		const alert = await screen.findByRole("alert");
		expect(alert.textContent).toContain(say("errors.storage-full.happened"));
		expect(alert.textContent).toContain(say("errors.storage-full.safe"));
		expect(alert.textContent).toContain(say("errors.storage-full.do"));
		expect(screen.queryByText(/never/)).toBeNull();
	});
});

describe("theme", () => {
	test("follows the phone until chosen; sun is one tap and one back; the choice is kept", () => {
		const kept: unknown[] = [];
		const stop = followTheme({ load: () => "dark", keep: (chosen) => kept.push(chosen) });
		const shown = () => document.documentElement.dataset.theme;
		expect(shown()).toBe("dark");
		switchSun();
		expect(shown()).toBe("sun");
		switchSun();
		expect(chosenTheme.value).toBeNull();
		expect(shown()).toBe("light");
		expect(kept).toEqual(["dark", "sun", null]);
		stop();
		chooseTheme(null);
	});
});
