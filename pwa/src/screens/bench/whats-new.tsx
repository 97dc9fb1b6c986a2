/** What one may have seen without being asked: growth, a trouble, the lid, a photo. */
import { useState } from "preact/hooks";
import { pictureOf } from "../../parts/answering";
import { useDesk } from "../../parts/desk";
import { coverPicture } from "../../parts/note-words";
import { save, showFault } from "../../parts/saved-strip";
import { capital, say } from "../../parts/say";
import { Ask, Foot, Way } from "../../parts/sheet";
import { fernsIn, growths, troubles } from "../../parts/standing";
import { FernName } from "../../parts/taxon";
import { PhotoTile, Tile, Tiles } from "../../parts/tiles";
import type { Cover, Desk, Growth, Saved, TakenPhoto, Trouble } from "../../records/desk";

export const covers: readonly Cover[] = [
	"closed",
	"matchstick",
	"pencil",
	"third",
	"half",
	"off_at_night",
	"off",
];

/** Troubles of the whole box, whatever is sown in it. */
const ofTheBox: readonly Trouble[] = ["too_wet", "dry", "gnats"];

export interface NewOn {
	desk: Desk;
	box: string;
	/** Which fern in it, where there is more than one. */
	sowing: string | undefined;
}

const what = ({ desk, box }: NewOn) => capital(desk.records.peek().labelOf(box));

const saidOf = (on: NewOn, answer: string, verb: () => Promise<Saved>) =>
	save(say("parts.saved.answer", { what: what(on), answer }), verb);

/** Growth belongs to a sowing: the chosen one, else the only one; a box without one carries it itself. */
export function noteGrowth(on: NewOn, growth: Growth): Promise<Saved | null> {
	const [only] = on.desk.records.peek().sowingsIn(on.box);
	const sowing = on.sowing ?? only?.id ?? on.box;
	return saidOf(on, say(`parts.growth.${growth}`), () => on.desk.verbs.seeGrowth(sowing, growth));
}

/** A trouble belongs to the chosen fern, where one was chosen; else to the box. */
export function noteTrouble(on: NewOn, trouble: Trouble): Promise<Saved | null> {
	const about = on.sowing && !ofTheBox.includes(trouble) ? on.sowing : on.box;
	return saidOf(on, say(`parts.trouble.${trouble}`), () =>
		on.desk.verbs.beginTrouble(about, trouble),
	);
}

export function noteCover(on: NewOn, cover: Cover): Promise<Saved | null> {
	return saidOf(on, say(`parts.cover.${cover}`), () => on.desk.verbs.setCover(on.box, cover));
}

export function notePhoto(on: NewOn, photo: TakenPhoto): Promise<Saved | null> {
	return saidOf(on, say("parts.note.photo"), () =>
		on.desk.verbs.addPhoto(on.sowing ?? on.box, photo),
	);
}

/** Which of the ferns in the box is meant; none where there is only one. */
export function WhichOf(props: {
	box: string;
	chosen: string | undefined;
	choose: (sowing: string | undefined) => void;
}) {
	const ferns = fernsIn(useDesk().records.value, props.box);
	if (ferns.length < 2) return null;
	return (
		<Tiles>
			{ferns.map((fern, i) => (
				<Tile
					key={fern.sowing.id}
					picture={pictureOf(String(fern.sowing.states.growth?.value)) ?? "growth-nothing"}
					word={
						<>
							<i>{fern.part ?? "abcdefgh"[i]}</i> <FernName naming={fern.naming} />
						</>
					}
					pressed={props.chosen === fern.sowing.id}
					onPress={() => props.choose(fern.sowing.id)}
				/>
			))}
			<Tile
				picture="object-two-sowings"
				word={say("bench.new.the-box")}
				pressed={props.chosen === undefined}
				onPress={() => props.choose(undefined)}
			/>
		</Tiles>
	);
}

type Door = "growth" | "trouble" | "cover";

function Doors({ on, open }: { on: NewOn; open: (door: Door) => void }) {
	return (
		<Tiles shape="four">
			<Tile
				word={say("bench.new.growth")}
				picture="growth-prothalli"
				onPress={() => open("growth")}
			/>
			<Tile
				word={say("bench.new.trouble")}
				picture="trouble-mould"
				onPress={() => open("trouble")}
			/>
			<Tile
				word={say("bench.new.cover")}
				picture="cover-matchstick"
				onPress={() => open("cover")}
			/>
			<PhotoTile
				word={say("bench.new.photo")}
				onPhoto={(photo) => void notePhoto(on, photo)}
				onFault={showFault}
			/>
		</Tiles>
	);
}

function Choices({ on, door, done }: { on: NewOn; door: Door; done: () => void }) {
	const after = (saved: Promise<Saved | null>) => void saved.then((ok) => ok && done());
	if (door === "growth")
		return (
			<Tiles>
				{growths.map((growth) => (
					<Tile
						key={growth}
						word={say(`parts.growth.${growth}`)}
						picture={pictureOf(growth) ?? "object-box"}
						onPress={() => after(noteGrowth(on, growth))}
					/>
				))}
			</Tiles>
		);
	if (door === "cover")
		return (
			<Tiles shape="four">
				{covers.map((cover) => (
					<Tile
						key={cover}
						word={say(`parts.cover.${cover}`)}
						picture={coverPicture(cover)}
						onPress={() => after(noteCover(on, cover))}
					/>
				))}
			</Tiles>
		);
	return (
		<Tiles>
			{troubles.map((trouble) => (
				<Tile
					key={trouble}
					word={say(`parts.trouble.${trouble}`)}
					picture={pictureOf(trouble) ?? "do-fix"}
					onPress={() => after(noteTrouble(on, trouble))}
				/>
			))}
		</Tiles>
	);
}

/** Nothing is asked, or something else was seen: four doors, each with its drawings. */
export function WhatsNew({ box, ask }: { box: string; ask: string }) {
	const desk = useDesk();
	const [door, open] = useState<Door | null>(null);
	const [sowing, choose] = useState<string | undefined>(undefined);
	const on = { desk, box, sowing };
	return (
		<>
			<Ask>{door ? say(`bench.new.ask-${door}`) : ask}</Ask>
			{door && door !== "cover" && <WhichOf box={box} chosen={sowing} choose={choose} />}
			{door ? (
				<Choices on={on} door={door} done={() => open(null)} />
			) : (
				<Doors on={on} open={open} />
			)}
			{door && (
				<Foot>
					<Way onPress={() => open(null)}>{say("bench.new.back")}</Way>
				</Foot>
			)}
		</>
	);
}
