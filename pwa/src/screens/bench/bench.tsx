import { useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { dayLong, dayOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Empty } from "../../parts/empty";
import { Page } from "../../parts/page";
import { Group, Node } from "../../parts/row";
import { capital, say } from "../../parts/say";
import { Way } from "../../parts/sheet";
import { Tile, Tiles } from "../../parts/tiles";
import type { FoldedRecord, Growth, Shelves } from "../../records/desk";
import "./bench.css";
import { type BenchGroup, benchList } from "./bench-list";
import { BoxRow } from "./box-row";
import { Ladder } from "./ladder";
import { Packets } from "./packets";

function titleOf(boxes: number, packets: number): string {
	if (!boxes && !packets) return say("bench.title.empty");
	if (!packets) return say("bench.title.boxes", { n: boxes });
	if (!boxes) return say("bench.title.packets", { n: packets });
	return say("bench.title.both", {
		boxes: say("bench.title.boxes", { n: boxes }),
		packets: say("bench.title.packets", { n: packets }),
	});
}

function Walked({ shelf }: { shelf: FoldedRecord }) {
	const today = useDesk().today.value;
	const at = shelf.last["shelf.walked"]?.at;
	return (
		<>
			{at
				? say("bench.shelf.walked", { day: dayLong(dayOf(at), today) })
				: say("bench.shelf.not-walked")}{" "}
			<Way to={`/bench/shelf/${shelf.id}`}>{say("bench.shelf.round")}</Way>
		</>
	);
}

function Shelf({ group, records }: { group: BenchGroup; records: Shelves }) {
	const { shelf, boxes } = group;
	if (!boxes.length && !shelf) return null;
	return (
		<>
			<Group
				word={shelf ? capital(records.labelOf(shelf.id)) : say("bench.no-shelf")}
				remark={shelf && <Walked shelf={shelf} />}
			/>
			{boxes.map((box) => (
				<BoxRow key={box.record.id} box={box} />
			))}
			{!boxes.length && <Node>{say("bench.shelf.empty")}</Node>}
		</>
	);
}

/** The round that is due, else that of the first shelf. */
function roundOf(desk: ReturnType<typeof useDesk>): string | undefined {
	const due = desk.tasks.value.find(
		(task) => task.rule === "round" && task.due <= desk.today.value,
	);
	const shelf = due?.subject ?? desk.records.value.ofType("shelf")[0]?.id;
	return shelf && `/bench/shelf/${shelf}`;
}

function Sheet() {
	const round = roundOf(useDesk());
	return (
		<>
			<Answers>
				<Answer
					main
					word={say("bench.sow-day")}
					picture="object-packet"
					then={say("bench.sow-day-then")}
					to="/bench/sow"
				/>
			</Answers>
			<div class="gap-small" />
			<Tiles>
				{round && <Tile word={say("bench.round")} picture="do-round" to={round} />}
				<Tile word={say("bench.received")} picture="object-received" to="/field/received" />
				<Tile word={say("bench.here-tile")} picture="object-box" to="/bench/here" />
			</Tiles>
		</>
	);
}

/** Boxes by shelf, clean ones first; then packets. */
export default function Bench() {
	const records = useDesk().records.value;
	const [only, setOnly] = useState<Growth | null>(null);
	const list = benchList(records, only);
	const packets = records.ofType("packet");
	const shown = list.groups.reduce((n, group) => n + group.boxes.length, list.apart.length);
	return (
		<Page
			place="bench"
			when={say("bench.when")}
			title={titleOf(list.total, packets.length)}
			sheet={<Sheet />}
		>
			{list.total > 0 && <Ladder counts={list.counts} only={only} choose={setOnly} />}
			{list.groups.map((group) => (
				<Shelf key={group.shelf?.id ?? ""} group={group} records={records} />
			))}
			{list.apart.length > 0 && (
				<Group word={say("bench.apart")} remark={say("bench.apart-remark")} />
			)}
			{list.apart.map((box) => (
				<BoxRow key={box.record.id} box={box} />
			))}
			{only && (
				<Node>
					{say("bench.showing", { stage: say(`parts.growth.${only}`), shown, n: list.total })}{" "}
					<Way onPress={() => setOnly(null)}>{say("bench.show-all")}</Way>
				</Node>
			)}
			{!only && <Packets packets={packets} />}
			{!list.total && !packets.length && (
				<Empty picture="object-box" words={say("bench.empty")} under={say("bench.empty-under")} />
			)}
		</Page>
	);
}
