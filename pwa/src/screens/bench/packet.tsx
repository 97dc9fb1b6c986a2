import { Answer, Answers } from "../../parts/answer";
import { dayOf, dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Page } from "../../parts/page";
import { Group, Node, Row } from "../../parts/row";
import { capital, say } from "../../parts/say";
import { numberOf, sownAt } from "../../parts/standing";
import { Tag } from "../../parts/tag";
import { FernName, fullName } from "../../parts/taxon";
import type { FoldedRecord } from "../../records/desk";
import { useAsWritten } from "./as-received";
import { NotHere } from "./not-here";
import { isReceived, sowingsFrom } from "./packets";
import { Story, useEntries } from "./story";

/** The boxes that hold its spores, each opening its screen. */
function CameOfIt({ packet }: { packet: FoldedRecord }) {
	const desk = useDesk();
	const records = desk.records.value;
	const boxes = new Set(
		sowingsFrom(records, packet.id).flatMap((sowing) => {
			const box = sowing.fields["sowing.described"]?.box;
			return typeof box === "string" ? [box] : [];
		}),
	);
	if (!boxes.size) return <Node>{say("bench.packet.none-sown")}</Node>;
	return (
		<>
			<Group word={say("bench.packet.came-of-it", { n: boxes.size })} />
			{[...boxes].map((box) => {
				const sown = sownAt(records, box);
				return (
					<Row
						key={box}
						picture="object-box"
						main={records.labelOf(box)}
						under={
							sown
								? say("bench.packet.sown-on", { day: dayShort(dayOf(sown), desk.today.value) })
								: undefined
						}
						to={`/bench/box/${box}`}
					/>
				);
			})}
		</>
	);
}

/** One packet: whose spores, how many boxes came of it, and the way to sow from it. */
export default function Packet({ id }: { id: string }) {
	const desk = useDesk();
	const records = desk.records.value;
	const packet = records.get(id);
	const entries = useEntries([id]);
	const written = useAsWritten([id]);
	if (!packet) return <NotHere />;
	const naming = records.nameOf(id);
	const plain = capital(
		written ? say("bench.as-received", { words: written }) : say("parts.name.unknown"),
	);
	return (
		<Page
			place="bench"
			when={
				<>
					<Tag kind="packet" text={numberOf(records.labelOf(id))} />{" "}
					{isReceived(packet) ? say("bench.packet.received") : say("bench.packet.own")}
				</>
			}
			title={naming?.taxon ? <FernName naming={naming} /> : plain}
			windowTitle={naming?.taxon ? fullName(naming) : plain}
			sheet={
				<Answers>
					<Answer
						main
						word={say("bench.packet.sow")}
						picture="object-packet"
						then={say("bench.packet.sow-then")}
						to={`/bench/sow?packet=${id}`}
					/>
					<Answer
						word={say("bench.packet.name")}
						picture="object-label"
						then={say("bench.packet.name-then")}
						to={`/book/record/${id}`}
					/>
				</Answers>
			}
		>
			<CameOfIt packet={packet} />
			<Story entries={entries} />
		</Page>
	);
}
