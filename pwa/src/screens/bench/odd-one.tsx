import { useState } from "preact/hooks";
import { pictureOf } from "../../parts/answering";
import { useDesk } from "../../parts/desk";
import { go } from "../../parts/route";
import { Row } from "../../parts/row";
import { showFault } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Foot, Way } from "../../parts/sheet";
import { fernsIn } from "../../parts/standing";
import { Tag } from "../../parts/tag";
import { FernName } from "../../parts/taxon";
import { PhotoTile, Tile, Tiles } from "../../parts/tiles";
import type { Saved, Trouble } from "../../records/desk";
import { waitOf } from "./box-state";
import { nextGrowth, type RoundBox } from "./round-state";
import { noteGrowth, notePhoto, noteTrouble, WhichOf } from "./whats-new";

const usual: readonly Trouble[] = ["mould", "slime", "too_wet", "dry"];

/** How far it is, in one line: "day 50. Nothing so far, and not too late." */
function Standing({ box }: { box: RoundBox }) {
	const desk = useDesk();
	const record = desk.records.value.get(box.id);
	const wait = record ? waitOf(desk.records.value, record, desk.today.value) : null;
	const growth = say(`parts.growth.${box.growth}`);
	if (!wait) return <>{growth}</>;
	if (wait.stands === "green") return <>{say("bench.odd.day-growth", { day: wait.day, growth })}</>;
	return (
		<>
			{say("bench.odd.day", { day: wait.day })} {say(`bench.odd.${wait.stands}`)}
		</>
	);
}

export interface OddOneProps {
	box: RoundBox;
	/** How many boxes were noted as different so far. */
	different: number;
	/** Back to the shelf. */
	leave: () => void;
}

/** One box of the round, tapped because it is different: what is it? */
export function OddOne({ box, different, leave }: OddOneProps) {
	const desk = useDesk();
	const [sowing, choose] = useState<string | undefined>(undefined);
	const on = { desk, box: box.id, sowing };
	const growth = nextGrowth(box.growth);
	const after = (saved: Promise<Saved | null>) => void saved.then((ok) => ok && leave());
	const [fern] = fernsIn(desk.records.value, box.id);
	return (
		<>
			<Row
				picture={pictureOf(box.growth)}
				to={`/bench/box/${box.id}`}
				under={
					<span class="ink">
						<Tag kind="box" text={box.number} />
						<FernName naming={fern?.naming ?? desk.records.value.nameOf(box.id)} />,{" "}
						<Standing box={box} />
					</span>
				}
			/>
			<WhichOf box={box.id} chosen={sowing} choose={choose} />
			<Tiles>
				<Tile
					word={say(`parts.growth.${growth}`)}
					picture={pictureOf(growth) ?? "growth-green-film"}
					onPress={() => after(noteGrowth(on, growth))}
				/>
				{usual.map((trouble) => (
					<Tile
						key={trouble}
						word={say(`parts.trouble.${trouble}`)}
						picture={pictureOf(trouble) ?? "do-fix"}
						onPress={() => after(noteTrouble(on, trouble))}
					/>
				))}
				<PhotoTile
					word={say("bench.odd.photo")}
					onPhoto={(photo) => after(notePhoto(on, photo))}
					onFault={showFault}
				/>
			</Tiles>
			<Foot>
				<Way onPress={leave}>{say("bench.odd.as-before")}</Way>
				<Way onPress={() => (different ? go("/") : go(`/bench/box/${box.id}`))}>
					{different ? say("bench.round.done", { n: different }) : say("bench.odd.more")}
				</Way>
			</Foot>
		</>
	);
}
