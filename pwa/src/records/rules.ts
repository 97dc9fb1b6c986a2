// What the phone knows beside its entries.

import type { CarePlan } from "../kernel/plan";
import type { Kinds } from "../kernel/record";

export interface Rules {
	kinds: Kinds;
	/** Changes with kinds and kernel: folded records of another version are not used. */
	version: string;
	/** The shipped care plan, for boxes that name no other. */
	plan: CarePlan;
}
