/** Growth, cover and trouble: three lines, never one. */
import type { ComponentChildren } from "preact";
import { pictureOf } from "../../parts/answering";
import { dayLong, dayOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { coverPicture } from "../../parts/note-words";
import { Pictogram, type PictogramName } from "../../parts/pictogram";
import { save } from "../../parts/saved-strip";
import { isTextKey, say } from "../../parts/say";
import { Way } from "../../parts/sheet";
import { type Fern, fernsIn, growthOf, growthOfBox, troublesOfBox } from "../../parts/standing";
import { FernName } from "../../parts/taxon";
import type { FoldedRecord, Trouble } from "../../records/desk";

function State(props: {
	cap: string;
	picture: PictogramName;
	children: ComponentChildren;
	right?: ComponentChildren;
}) {
	return (
		<div class="row state">
			<Pictogram name={props.picture} />
			<span class="w">
				<small>{props.cap}</small> <span>{props.children}</span>
			</span>
			{props.right && <span class="r">{props.right}</span>}
		</div>
	);
}

const letter = (fern: Fern, i: number) => fern.part ?? "abcdefgh"[i] ?? "";

function GrowthLine({ box }: { box: FoldedRecord }) {
	const desk = useDesk();
	const records = desk.records.value;
	const ferns = fernsIn(records, box.id);
	const furthest = growthOfBox(records, box.id);
	const picture = pictureOf(furthest ?? "nothing") ?? "growth-nothing";
	return (
		<>
			{ferns.map((fern, i) => {
				const growth = growthOf(fern.sowing);
				const since = fern.sowing.states.growth?.since;
				return (
					<State
						key={fern.sowing.id}
						cap={say("bench.state.growth")}
						picture={growth ? (pictureOf(growth) ?? picture) : picture}
					>
						{ferns.length > 1 && <i class="let">{letter(fern, i)}</i>}
						{say(`parts.growth.${growth ?? "unseen"}`)}
						{since && say("bench.state.since", { day: dayLong(dayOf(since), desk.today.value) })}
						{ferns.length > 1 && (
							<small class="fern-line">
								<FernName naming={fern.naming} />
							</small>
						)}
					</State>
				);
			})}
		</>
	);
}

function CoverLine({ box }: { box: FoldedRecord }) {
	const cover = box.states.cover?.value;
	if (typeof cover !== "string") return null;
	const key = `parts.cover.${cover}`;
	return (
		<State cap={say("bench.state.cover")} picture={coverPicture(cover)}>
			{isTextKey(key) ? say(key) : cover}
		</State>
	);
}

function TroubleLines({ box }: { box: FoldedRecord }) {
	const desk = useDesk();
	const records = desk.records.value;
	const over = (about: string, trouble: Trouble) =>
		save(say("parts.note.trouble-ended", { trouble: say(`parts.trouble.${trouble}`) }), () =>
			desk.verbs.endTrouble(about, trouble),
		);
	const open = troublesOfBox(records, box);
	return (
		<>
			{open.map(({ trouble, about, since }) => (
				<State
					key={about + trouble}
					cap={say("bench.state.trouble")}
					picture={pictureOf(trouble) ?? "do-fix"}
					right={<Way onPress={() => void over(about, trouble)}>{say("bench.state.over")}</Way>}
				>
					{say(`parts.trouble.${trouble}`)}
					{say("bench.state.since", { day: dayLong(dayOf(since), desk.today.value) })}
				</State>
			))}
		</>
	);
}

export function Standings({ box }: { box: FoldedRecord }) {
	return (
		<>
			<GrowthLine box={box} />
			<CoverLine box={box} />
			<TroubleLines box={box} />
		</>
	);
}
