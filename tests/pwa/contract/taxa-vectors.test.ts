// Runs the shared vectors of the tables of ferns; twin of tests/backend/contract.

import { expect, test } from "vitest";
import { growingOf, sorusOf } from "../../../pwa/src/contract/taxa";
import told from "../../vectors/taxa/growing.json";

test.each(told.vectors)("$id $title", ({ given: { taxon }, expect: wanted }) => {
	expect({ growing: growingOf(taxon), sorus: sorusOf(taxon) }).toEqual(wanted);
});
