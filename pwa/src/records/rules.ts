// What the phone knows beside its entries: kinds, the shipped care plan, what is usual for a fern.

import type { Kinds } from "../kernel/record";
import type { FoldedRecord, Json, Task } from "../sync/ports";
import type { Growing } from "./desk";

export interface Rules {
	kinds: Kinds;
	/** Changes with kinds and kernel: folded records of another version are not used. */
	version: string;
	/** The shipped care plan, for boxes that name no other. */
	plan: Json;
	growingOf(taxon: string | null): Growing | null;
	due(
		plan: Json,
		subject: FoldedRecord,
		inside: FoldedRecord[],
		growing: { [sowing: string]: Growing },
		outlook: Json[],
		away: { from: string; to: string }[],
		today: string,
	): Task[];
}
