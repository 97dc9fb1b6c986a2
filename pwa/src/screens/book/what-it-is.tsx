/** What a record is described as: each field that says something, a line. */
import { useDesk } from "../../parts/desk";
import { Group, Node, Row } from "../../parts/row";
import { say } from "../../parts/say";
import { awayFrom, awayText, whereaboutsOf } from "../../parts/whereabouts";
import { fernOf } from "../../reckoning/ferns";
import type { FoldedRecord } from "../../records/desk";
import { fieldText, valueText } from "./values";

/** Fields that are shown elsewhere on the screen, or are of no use to a person. */
const elsewhere = new Set(["name", "code", "plant", "from", "packets"]);

/** Described fields of the record's own kind, and its note. */
function linesOf(record: FoldedRecord): [string, FoldedRecord["fields"][string][string]][] {
	const own = Object.entries(record.fields[`${record.type}.described`] ?? {});
	const note = Object.entries(record.fields["record.described"] ?? {});
	return [...own, ...note].filter(
		([field, value]) => !elsewhere.has(field) && value !== null && value !== "" && value !== false,
	);
}

function Where({ record }: { record: FoldedRecord }) {
	const desk = useDesk();
	const there = whereaboutsOf(desk.records.value, record);
	if (!there) return null;
	const { fix } = desk.position.value;
	return (
		<Row
			picture="grown-wild"
			under={say(there.rounded ? "book.tell.told" : "book.tell.fixed", { m: there.uncertainty_m })}
			right={fix ? awayText(awayFrom(fix, there)) : undefined}
		/>
	);
}

export function WhatItIs({ record }: { record: FoldedRecord }) {
	const desk = useDesk();
	const records = desk.records.value;
	const lines = linesOf(record);
	const naming = records.nameOf(record.id);
	const label = records.labelOf(record.id);
	const inherited =
		naming?.taxon && naming.from !== record.id && records.labelOf(naming.from) !== label;
	const caution = naming?.taxon ? (fernOf(naming.taxon)?.caution ?? null) : null;
	return (
		<>
			{(lines.length > 0 || inherited) && <Group word={say("book.record.is")} />}
			{inherited && naming && (
				<Node>
					{say("book.record.named-by", {
						label: records.labelOf(naming.from),
						sure: say(`book.sure.${naming.sure}`),
					})}
				</Node>
			)}
			{lines.map(([field, value]) => (
				<Node key={field}>
					{fieldText(field, `${record.type}.described`)}:{" "}
					<b class="inline">{valueText(records, field, value)}</b>
				</Node>
			))}
			<Where record={record} />
			{caution && <Row picture="object-lens" under={caution} />}
		</>
	);
}
