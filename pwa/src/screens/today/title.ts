import { inWords } from "../../parts/counting";
import { say } from "../../parts/say";
import type { Day } from "./day";

/** Says what is the case: what to leave alone, and what wants a look. */
export function titleOf({ cards, rounds, leave, boxes }: Day): string {
	const own = new Set(cards.map((task) => task.subject)).size;
	if (!boxes) return say("today.title.newcomer");
	if (!own && rounds.length === 1) return say("today.title.one-round");
	if (!own && rounds.length) return say("today.title.rounds", { words: inWords(rounds.length) });
	if (!own) return say("today.title.leave-all", { n: leave });
	if (!leave) return say("today.title.look-at-all", { n: own, words: inWords(own) });
	return say("today.title.leave-and-look", { n: own, leave, words: inWords(own) });
}
