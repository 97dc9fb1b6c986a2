// The rules this build was made with, handed to records/.

import { kinds } from "../contract/kinds";
import { plans } from "../contract/plans";
import type { CarePlan } from "../kernel/plan";
import type { Rules } from "../records/rules";

/** Raise it when the fold itself comes out differently. */
const FOLD = 1;

export const rules: Rules = {
	kinds,
	version: `${FOLD} ${JSON.stringify(kinds)}`,
	plan: plans.closed_box as unknown as CarePlan,
};
