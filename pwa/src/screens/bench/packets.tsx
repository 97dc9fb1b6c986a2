import { useState } from "preact/hooks";
import { useDesk } from "../../parts/desk";
import { Pictogram } from "../../parts/pictogram";
import { Link } from "../../parts/route";
import { Group } from "../../parts/row";
import { say } from "../../parts/say";
import { Way } from "../../parts/sheet";
import { numberOf } from "../../parts/standing";
import { Tag } from "../../parts/tag";
import { FernName } from "../../parts/taxon";
import type { FoldedRecord, Shelves } from "../../records/desk";

const shownAtFirst = 8;

/** Boxes in which spores of a packet lie. */
export const sowingsFrom = (records: Shelves, packet: string): FoldedRecord[] =>
	records.cameOf(packet).filter((record) => record.type === "sowing");

/** Whether it came from someone (else it was cut). */
export const isReceived = (packet: FoldedRecord): boolean =>
	packet.first["packet.received"] !== undefined;

/** Not sown yet first. */
export function inOrder(records: Shelves, packets: readonly FoldedRecord[]): FoldedRecord[] {
	const sown = (packet: FoldedRecord) => (sowingsFrom(records, packet.id).length ? 1 : 0);
	return [...packets].sort((a, b) => sown(a) - sown(b) || (a.id < b.id ? 1 : -1));
}

export function PacketRow({ packet }: { packet: FoldedRecord }) {
	const records = useDesk().records.value;
	const sown = sowingsFrom(records, packet.id).length;
	return (
		<Link class="row" to={`/bench/packet/${packet.id}`}>
			<Pictogram name={isReceived(packet) ? "object-received" : "object-packet"} />
			<span class="w">
				<span class="named">
					<Tag kind="packet" text={numberOf(records.labelOf(packet.id))} />
					<FernName naming={records.nameOf(packet.id)} />
				</span>
				<small class="below">
					{sown ? say("bench.packet.sown", { n: sown }) : say("bench.packet.not-sown")}
				</small>
			</span>
		</Link>
	);
}

export function Packets({ packets }: { packets: FoldedRecord[] }) {
	const records = useDesk().records.value;
	const [all, showAll] = useState(false);
	if (!packets.length) return null;
	const sorted = inOrder(records, packets);
	const shown = all ? sorted : sorted.slice(0, shownAtFirst);
	return (
		<>
			<Group word={say("bench.packets")} remark={say("bench.packets-remark")} />
			{shown.map((packet) => (
				<PacketRow key={packet.id} packet={packet} />
			))}
			{sorted.length > shown.length && (
				<div class="pad">
					<Way onPress={() => showAll(true)}>
						{say("bench.packets-more", { n: sorted.length - shown.length })}
					</Way>
				</div>
			)}
		</>
	);
}
