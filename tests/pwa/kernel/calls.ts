// Which function a rule of the shared vectors names, and how its `given` is passed.

import { canonical } from "../../../pwa/src/kernel/canonical";
import * as clock from "../../../pwa/src/kernel/clock";
import * as code from "../../../pwa/src/kernel/code";
import * as days from "../../../pwa/src/kernel/days";
import { type CarePlan, due } from "../../../pwa/src/kernel/due";
import { fold } from "../../../pwa/src/kernel/fold";
import { isPlan } from "../../../pwa/src/kernel/plan-shape";
import type { Json } from "../../../pwa/src/kernel/record";

/** A vector's `expect`, filled up from the file's `shared.expect` where there is one. */
export function whole(shared: object | undefined, own: Json | undefined): Json {
	return (shared ? { ...shared, ...(own as object) } : own) as Json;
}

// biome-ignore lint/suspicious/noExplicitAny: what a vector gives has the shape its rule wants.
type Given = any;

const plans = import.meta.glob<string>("../../../backend/sporeline/contract/plans/*.json", {
	query: "?raw",
	import: "default",
	eager: true,
});
const shipped = (name: string): CarePlan =>
	JSON.parse(plans[`../../../backend/sporeline/contract/plans/${name}.json`] as string);

/**
 * `plan`: a care plan, or the name of a shipped one. Records are folded from `entries`. `only`: the
 * rules whose tasks the vector is about.
 */
function dueOf(given: Given): unknown {
	const plan = typeof given.plan === "string" ? shipped(given.plan) : given.plan;
	const folded = (id: string) => fold(id, given.entries, given.kinds);
	const { growing, outlook, away, today, only } = given;
	const inside = given.inside.map(folded);
	const tasks = due(plan, folded(given.subject), inside, growing, outlook, away, today);
	return tasks.filter(({ rule }) => !only || only.includes(rule));
}

export const CALLS: { [rule: string]: (given: Given) => unknown } = {
	canonical: (given) => canonical(given.value),
	"clock.read": (given) => clock.readStamp(given.text),
	"clock.write": (given) => clock.writeStamp(given.clock),
	"clock.tick": (given) => {
		const [after, made] = clock.tick(given.clock, given.wall_ms);
		return { clock: after, made };
	},
	"clock.receive": (given) => clock.receive(given.clock, given.made, given.wall_ms),
	"clock.merge": (given) => clock.mergeStamp(given.made, given.received),
	"code.of": (given) => code.codeOf(given.five),
	"code.draw": (given) => {
		const draws = given.draws.values();
		return code.drawCode((n) => draws.next().value % n);
	},
	"code.verify": (given) => code.verify(given.code),
	"code.suggestions": (given) => code.suggestions(given.code),
	"days.count": (given) => days.toDay(given.date),
	"days.write": (given) => days.fromDay(given.day),
	"days.add": (given) => days.fromDay(days.addDuration(days.toDay(given.date), given.duration)),
	due: dueOf,
	plan: (given) => isPlan(given.plan),
	fold: (given) => fold(given.record, given.entries, given.kinds),
};
