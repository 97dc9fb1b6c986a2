// All verbs of the desk.

import type { Verbs } from "./verb-inputs";
import { benchVerbs } from "./verbs/bench";
import { type CareNeeds, careVerbs } from "./verbs/care";
import { correctionVerbs } from "./verbs/corrections";
import { type FieldNeeds, fieldVerbs } from "./verbs/field";
import { type PeopleNeeds, peopleVerbs } from "./verbs/people";

export type VerbNeeds = FieldNeeds & PeopleNeeds & CareNeeds;

export function allVerbs(needs: VerbNeeds): Verbs {
	return {
		...fieldVerbs(needs),
		...benchVerbs(needs.writer, needs.shelves),
		...careVerbs(needs),
		...correctionVerbs(needs.writer),
		...peopleVerbs(needs),
	};
}
