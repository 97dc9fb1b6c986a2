import { useDesk } from "../../parts/desk";
import { LinePicture } from "../../parts/line-picture";
import { lineOf } from "../../parts/line-stops";
import { Row } from "../../parts/row";
import { say } from "../../parts/say";
import { FernName } from "../../parts/taxon";
import type { FoldedRecord } from "../../records/desk";

/** The packets from which a sowing was sown. */
export const packetsOf = (sowing: FoldedRecord): string[] => {
	const { packets } = sowing.fields["sowing.described"] ?? {};
	return Array.isArray(packets) ? packets.filter((id) => typeof id === "string") : [];
};

/** Where the first fern of a box came from, as one strip; further packets as rows. */
export function CameFrom({ box }: { box: FoldedRecord }) {
	const desk = useDesk();
	const records = desk.records.value;
	const ids = records.sowingsIn(box.id).flatMap(packetsOf);
	const [first, ...more] = [...new Set(ids)];
	const packet = first ? records.get(first) : undefined;
	if (!packet) return null;
	const stops = lineOf(records, box, packet, desk.today.value);
	const said = stops
		.map((stop) => [stop.label, stop.when, stop.year].filter(Boolean).join(" "))
		.join(", ");
	return (
		<>
			<LinePicture
				stops={stops}
				title={say("bench.came-from")}
				label={say("bench.came-from.label", { stops: said })}
			/>
			{more.map((id) => (
				<Row
					key={id}
					picture="object-packet"
					main={records.labelOf(id)}
					under={<FernName naming={records.nameOf(id)} />}
					to={`/bench/packet/${id}`}
				/>
			))}
		</>
	);
}
