import { pictureOf } from "../../parts/answering";
import { useDesk } from "../../parts/desk";
import { PartedBox } from "../../parts/parted-box";
import { say } from "../../parts/say";
import { fernsIn, growthOf, troublesOfBox } from "../../parts/standing";
import { fullName } from "../../parts/taxon";
import type { FoldedRecord } from "../../records/desk";

/** Several ferns under one lid, drawn; nothing where there is only one. */
export function PartsOfBox({ box }: { box: FoldedRecord }) {
	const records = useDesk().records.value;
	const ferns = fernsIn(records, box.id);
	if (ferns.length < 2) return null;
	const troubles = troublesOfBox(records, box);
	const parts = ferns.map((fern, i) => {
		const trouble = troubles.find(({ about }) => about === fern.sowing.id);
		return {
			letter: fern.part ?? "abcdefgh"[i] ?? "",
			picture: pictureOf(growthOf(fern.sowing) ?? "nothing") ?? "growth-nothing",
			trouble: trouble && pictureOf(trouble.trouble),
		};
	});
	const said = ferns.map(
		(fern, i) =>
			`${parts[i]?.letter} ${fern.naming ? fullName(fern.naming) : ""} ${say(`parts.growth.${growthOf(fern.sowing) ?? "unseen"}`)}`,
	);
	return <PartedBox parts={parts} label={say("bench.box.parts", { parts: said.join("; ") })} />;
}
