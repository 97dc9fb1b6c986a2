/** Scenes of the gallery for the book and for what is ahead: /book?scene=book. Invented data. */

import { ladyNotes } from "../field/wood";
import type { FakeDesk } from "../gallery/fake-desk";
import { task } from "../gallery/scenes";
import { bookDesk, entries, heldDay, heldRipeness, records } from "./shelf";

const waiting = { unsent: 7, oldestUnsentMs: 18_300_000, onServer: 1212, backedUp: 1198 } as const;
const found = [
	{ record: "mv27", type: "gathering", label: "MV 27", name: null, in: "number", text: "MV 27" },
	{ record: "p58", type: "packet", label: "packet 58", name: null, in: "label", text: "packet 58" },
] as const;

const coming = [
	task({ subject: "box-17", rule: "green-film", due: "2026-09-01", until: "2026-09-22" }),
	task({ subject: "box-17", rule: "first-look", due: "2026-08-24", until: "2026-09-14" }),
	task({ subject: "north", rule: "round", due: "2026-08-25", covers: ["box-17"] }),
];

export const bookScenes: Readonly<Record<string, () => FakeDesk>> = {
	book: () => bookDesk({ safety: { ...waiting, held: 1 }, found: [...found] }),
	offline: () => bookDesk({ safety: { ...waiting, link: "offline" } }),
	fixday: () => bookDesk({ safety: { ...waiting, held: 1 }, fixing: [heldDay] }),
	fixripe: () => bookDesk({ safety: { ...waiting, held: 2 }, fixing: [heldRipeness, heldDay] }),
	alone: () =>
		bookDesk({
			safety: { ...waiting, onServer: 0, backedUp: 0, link: "offline", persisted: false },
			me: {
				person: "mirela",
				name: "Mirela Vask",
				initials: "MV",
				device: "phone",
				deviceLabel: "phone",
				logbook: null,
				role: null,
				joined: false,
			},
		}),
	coming: () => bookDesk({ tasks: coming, entries: [...entries, ...ladyNotes] }),
	lost: () =>
		bookDesk({
			records: records.slice(0, 3),
			safety: { link: "shut-out", unsent: 2, oldestUnsentMs: 200_000_000 },
		}),
};
