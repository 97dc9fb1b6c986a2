// A push message as a notice. The words were made on the server; here they are only shown.

import words from "../contract/texts/notices.json";

/** The part of a declarative push message (web_push 8030) that is shown. */
export interface Notice {
	title: string;
	body: string;
	tag: string;
	/** Path in the app that the notice opens. */
	navigate: string;
	lang: string;
}

const UNREADABLE: Notice = {
	title: words["notices.unreadable"],
	body: "",
	tag: "unreadable",
	navigate: "/",
	lang: "en",
};

/** A message that cannot be read still shows something: a silent push costs the subscription. */
export function noticeOf(message: string | null): Notice {
	const shown = shownPart(message);
	const title = textOf(shown, "title");
	if (title === null) return UNREADABLE;
	return {
		title,
		body: textOf(shown, "body") ?? "",
		tag: textOf(shown, "tag") ?? "notice",
		navigate: pathOf(textOf(shown, "navigate")),
		lang: textOf(shown, "lang") ?? "en",
	};
}

/** The task that a notice asks about, from the path that it opens. */
export function taskOf(notice: Notice): string | null {
	return new URL(notice.navigate, "https://phone.invalid").searchParams.get("task");
}

/** The same notice once its question was answered here with no signal. */
export function alreadyNoted(notice: Notice): Notice {
	return { ...notice, body: words["notices.already"] };
}

function shownPart(message: string | null): unknown {
	try {
		return JSON.parse(message ?? "")?.notification;
	} catch {
		return null;
	}
}

function textOf(shown: unknown, name: string): string | null {
	if (typeof shown !== "object" || shown === null) return null;
	const value = (shown as Record<string, unknown>)[name];
	return typeof value === "string" && value !== "" ? value : null;
}

/** Only a path of this app: a notice never leads elsewhere. */
function pathOf(address: string | null): string {
	return address?.startsWith("/") && !address.startsWith("//") ? address : "/";
}
