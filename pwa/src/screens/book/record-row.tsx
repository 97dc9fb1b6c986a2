/** A record as a row: what it is drawn as, its label, its fern. */
import type { ComponentChildren } from "preact";
import { useDesk } from "../../parts/desk";
import { Row } from "../../parts/row";
import { say } from "../../parts/say";
import { FernName } from "../../parts/taxon";
import type { FoldedRecord } from "../../records/desk";
import { typePicture } from "./telling";

/** Which drawing: a received packet is one that came. */
export const pictureFor = (record: FoldedRecord) =>
	record.first["packet.received"] ? ("object-received" as const) : typePicture(record.type);

/** Kinds of things that are of a fern. */
const ferny = new Set(["plant", "gathering", "packet", "box", "sowing", "clump", "pots"]);

export function NameUnder({ id }: { id: string }) {
	const records = useDesk().records.value;
	const type = records.get(id)?.type ?? null;
	if (!type || !ferny.has(type))
		return <>{type ? say(`book.one.${type}` as "book.one.plant") : ""}</>;
	return <FernName naming={records.nameOf(id)} />;
}

export function RecordRow(props: {
	id: string;
	under?: ComponentChildren;
	right?: ComponentChildren;
}) {
	const records = useDesk().records.value;
	const record = records.get(props.id);
	if (!record) return null;
	return (
		<Row
			picture={pictureFor(record)}
			main={records.labelOf(record.id)}
			under={props.under ?? <NameUnder id={record.id} />}
			right={props.right}
			to={`/book/record/${record.id}`}
		/>
	);
}
