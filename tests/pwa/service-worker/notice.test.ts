import { expect, test } from "vitest";
import { alreadyNoted, noticeOf, taskOf } from "../../../pwa/src/service-worker/notice";

const TASK = "019de28d-3c00-7000-8000-0000000000aa/first-look/2026-05-01";
const message = (navigate: string) =>
	JSON.stringify({
		web_push: 8030,
		notification: {
			title: "Box 4: first look",
			body: "Look through the lid.",
			navigate,
			tag: "box/first-look",
			lang: "en",
		},
	});

test("a declarative message is shown as it was worded", () => {
	const notice = noticeOf(message(`/answer?task=${encodeURIComponent(TASK)}`));
	expect(notice.title).toBe("Box 4: first look");
	expect(notice.tag).toBe("box/first-look");
	expect(taskOf(notice)).toBe(TASK);
});

test("an answered task keeps its title and tag and says so", () => {
	const notice = alreadyNoted(noticeOf(message("/answer?task=x")));
	expect(notice).toMatchObject({
		title: "Box 4: first look",
		body: "Already noted on this phone",
		tag: "box/first-look",
	});
});

test.each([null, "", "{", "[]", "null", '{"notification":5}', '{"notification":{"title":""}}'])(
	"what cannot be read still shows something: %s",
	(text) => {
		expect(noticeOf(text).title).toBe("Something is due. Open it to see what.");
		expect(noticeOf(text).navigate).toBe("/");
	},
);

test.each(["https://elsewhere.example/", "//elsewhere.example", "javascript:alert(1)", ""])(
	"a notice never leads elsewhere: %s",
	(address) => {
		expect(noticeOf(message(address)).navigate).toBe("/");
	},
);
