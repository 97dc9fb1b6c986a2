/** One plant: find it again, know when to come, see its years, look at its sori, cut from it. */
import { useEffect, useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { dayLong, dayOf, dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Empty } from "../../parts/empty";
import { Page } from "../../parts/page";
import { PhotoAnswer, Picture } from "../../parts/photo";
import { Gap, Group, Node, Row, Say } from "../../parts/row";
import { save, showFault } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Ask, Foot, Way } from "../../parts/sheet";
import { Tag } from "../../parts/tag";
import { FernName } from "../../parts/taxon";
import { type Away, awayFrom, whereaboutsOf } from "../../parts/whereabouts";
import type { Fern } from "../../reckoning/ferns";
import { fernOf } from "../../reckoning/ferns";
import type { FoldedRecord, Ripeness, StoredEntry } from "../../records/desk";
import { Dial } from "./dial";
import "./field.css";
import { useHere } from "./field-when";
import { askForHeading, mustAskForHeading, useHeading } from "./heading";
import { isAt } from "./offer";
import { lastRipeness } from "./plant-row";
import { RipenessTiles, ripenessPicture } from "./ripeness";
import { YearPicture } from "./year-picture";
import { type Next, nextVisit, ripeDays, standing, type Year, yearsOf } from "./years";

/** The plant's notes, read again whenever the records change. */
function useNotes(plant: FoldedRecord | undefined): StoredEntry[] {
	const desk = useDesk();
	const [notes, read] = useState<StoredEntry[]>([]);
	useEffect(() => {
		let wanted = true;
		if (plant)
			desk.entriesOf(plant.id).then((found) => {
				if (wanted) read(standing(found, plant.struck));
			});
		return () => {
			wanted = false;
		};
	}, [desk, plant]);
	return notes;
}

function Course({ away, good }: { away: Away; good: number }) {
	const [allowed, allow] = useState(!mustAskForHeading());
	const heading = useHeading(allowed);
	if (isAt(away)) return <Say>{say("field.plant.near", { m: Math.max(10, away.doubt) })}</Say>;
	return (
		<>
			<Dial away={away} turn={heading ?? 0} />
			<div class="pad">
				<p>
					<b>
						{say("field.plant.course", {
							point: say(`field.point.long.${away.point}`),
							degrees: Math.round(away.degrees) % 360,
						})}
					</b>{" "}
					{say(heading === null ? "field.plant.north" : "field.plant.turn")}{" "}
					{say("field.plant.look-about", { m: Math.max(15, away.doubt), good })}
				</p>
				{!allowed && (
					<Way onPress={() => void askForHeading().then(allow)}>{say("field.plant.turn-with")}</Way>
				)}
			</div>
		</>
	);
}

/** Where it is, seen from here. */
function Find({ plant }: { plant: FoldedRecord }) {
	const desk = useDesk();
	const { fix } = desk.position.value;
	const there = whereaboutsOf(desk.records.value, plant);
	if (!there) return <Node>{`${say("field.plant.no-fix")} ${say("field.plant.no-fix.do")}`}</Node>;
	if (!fix) return <Node>{say("field.plant.no-position", { good: there.uncertainty_m })}</Node>;
	return (
		<>
			<Course away={awayFrom(fix, there)} good={there.uncertainty_m} />
			{there.rounded && <Node>{say("field.plant.rounded", { m: there.uncertainty_m })}</Node>}
		</>
	);
}

/** The next visit, in words that what was seen supports. */
function nextText(next: Next, fern: Fern | null, today: string): string {
	const day = (d: string) => dayLong(d, today);
	if (fern?.holdsOverWinter && next.say === "ripe-now") return say("field.plant.next.holds");
	switch (next.say) {
		case "none":
			return say("field.plant.next.none");
		case "one":
			return say("field.plant.next.one", {
				day: day(next.day).replace(/ \d{4}$/, ""),
				year: next.year,
			});
		case "more":
			return say("field.plant.next.more", { from: day(next.from), to: day(next.to), n: next.n });
		default:
			return say(`field.plant.next.${next.say}`, { day: day(next.day) });
	}
}

function Years({ years, today }: { years: Year[]; today: string }) {
	if (!years.length) return <Node>{say("field.plant.years.none")}</Node>;
	const short = (day: string) => dayShort(day, day);
	return (
		<>
			<Group word={say("field.plant.years")} />
			{years.map(({ year, sights }) => (
				<Node key={year}>
					<b class="inline">{year}</b>{" "}
					{sights
						.map(({ day, ripeness }) =>
							ripeness === null
								? say("field.plant.cut-part", { day: short(day) })
								: say("field.plant.year-part", {
										ripeness: say(`field.seen.${ripeness}`),
										day: short(day),
									}),
						)
						.join(", ")}
				</Node>
			))}
			{ripeDays(years).length > 0 && <YearPicture ripe={ripeDays(years)} today={today} />}
		</>
	);
}

function Cuts({ plant }: { plant: FoldedRecord }) {
	const { records, today } = useDesk();
	const cuts = records.value.cameOf(plant.id).filter(({ type }) => type === "gathering");
	if (!cuts.length) return null;
	return (
		<>
			<Group word={say("field.plant.cuts")} />
			{cuts.map((cut) => (
				<Row
					key={cut.id}
					picture="object-collection"
					main={<Tag kind="label" text={records.value.labelOf(cut.id)} />}
					right={dayShort(dayOf(cut.first["frond.cut"]?.at ?? ""), today.value)}
					to={`/book/record/${cut.id}`}
				/>
			))}
		</>
	);
}

type Asking = "doing" | "sori" | "missing";

function Sori(props: { plant: FoldedRecord; fern: Fern | null; done: () => void }) {
	const desk = useDesk();
	const label = desk.records.value.labelOf(props.plant.id);
	const see = async (ripeness: Ripeness) => {
		const words = say("field.plant.saved", { label, ripeness: say(`field.seen.${ripeness}`) });
		const seen = { plant: props.plant.id, ripeness, way: "eye" } as const;
		if (await save(words, () => desk.verbs.seeSori(seen))) props.done();
	};
	return (
		<div class="cut">
			<Ask>{say("field.ripest")}</Ask>
			<RipenessTiles sorus={props.fern?.sorus ?? null} chosen={null} choose={(r) => void see(r)} />
			<Foot>
				<Way onPress={props.done}>{say("field.plant.back")}</Way>
			</Foot>
		</div>
	);
}

/** Not there, or gone: kept as a note beside what the plant's note says already. */
function Missing({ plant, done }: { plant: FoldedRecord; done: () => void }) {
	const desk = useDesk();
	const note = async (
		key: "field.plant.missing.unfound.note" | "field.plant.missing.gone.note",
	) => {
		const before = plant.fields["record.described"]?.note;
		const day = dayLong(desk.today.peek(), desk.today.peek());
		const words = [typeof before === "string" ? before : "", say(key, { day })];
		const label = desk.records.peek().labelOf(plant.id);
		const saved = await save(say("field.plant.missing.saved", { label }), () =>
			desk.verbs.describe(plant.id, "record.described", { note: words.filter(Boolean).join("\n") }),
		);
		if (saved) done();
	};
	return (
		<>
			<Ask>{say("field.plant.missing.ask")}</Ask>
			<Answers>
				<Answer
					picture="do-which"
					word={say("field.plant.missing.unfound")}
					onPress={() => void note("field.plant.missing.unfound.note")}
				/>
				<Answer
					picture="do-cross-out"
					word={say("field.plant.missing.gone")}
					onPress={() => void note("field.plant.missing.gone.note")}
				/>
			</Answers>
			<Foot>
				<Way onPress={done}>{say("field.plant.back")}</Way>
			</Foot>
		</>
	);
}

function Doing({ plant, ask }: { plant: FoldedRecord; ask: (asking: Asking) => void }) {
	const desk = useDesk();
	const label = desk.records.value.labelOf(plant.id);
	const { fix } = desk.position.value;
	const keepHere = () =>
		fix && save(say("field.plant.kept-here", { label }), () => desk.verbs.fixPlace(plant.id, fix));
	return (
		<>
			<Answers>
				<Answer
					main
					picture="object-plant"
					word={say("field.plant.at")}
					then={say("field.plant.at.then")}
					onPress={() => ask("sori")}
				/>
				<Answer
					picture="object-collection"
					word={say("field.plant.cut")}
					then={say("field.plant.cut.then", { number: desk.verbs.nextNumber("mine") })}
					to={`/field/cut?plant=${plant.id}`}
				/>
				<Answer
					picture="do-later"
					word={say("field.plant.missing")}
					then={say("field.plant.missing.then")}
					onPress={() => ask("missing")}
				/>
			</Answers>
			{fix && (
				<Foot>
					<Way onPress={() => void keepHere()}>
						{say("field.plant.keep-here", { m: fix.uncertainty_m })}
					</Way>
				</Foot>
			)}
		</>
	);
}

/** What was last seen, and the next visit. */
function Sight({ plant, next, fern }: { plant: FoldedRecord; next: Next; fern: Fern | null }) {
	const desk = useDesk();
	const seen = lastRipeness(plant);
	const picture = seen && ripenessPicture(seen.ripeness, fern?.sorus ?? null);
	return <Row picture={picture ?? "object-lens"} under={nextText(next, fern, desk.today.value)} />;
}

function Story({ plant, notes }: { plant: FoldedRecord; notes: StoredEntry[] }) {
	const desk = useDesk();
	const label = desk.records.value.labelOf(plant.id);
	const photo = desk.records.value.photosOf(plant.id).at(-1);
	const years = yearsOf(notes);
	return (
		<>
			{photo && <Picture sha256={photo.sha256} alt={say("field.plant.photo", { label })} />}
			<Find plant={plant} />
			<Years years={years} today={desk.today.value} />
			<Cuts plant={plant} />
			<Gap />
			<Answers>
				<PhotoAnswer
					word={say("field.plant.add-photo")}
					onPhoto={(taken) =>
						void save(say("field.plant.photo-saved", { label }), () =>
							desk.verbs.addPhoto(plant.id, taken),
						)
					}
					onFault={showFault}
				/>
			</Answers>
			<div class="pad">
				<Way to={`/book/record/${plant.id}`}>{say("field.plant.record")}</Way>
			</div>
		</>
	);
}

export default function PlantScreen({ id }: { id: string }) {
	const desk = useDesk();
	useHere();
	const [asking, ask] = useState<Asking>("doing");
	const plant = desk.records.value.get(id);
	const notes = useNotes(plant);
	if (!plant)
		return (
			<Page place="field" when={say("field.when")} title={say("field.plant.gone")}>
				<Empty picture="object-plant" words={say("field.plant.gone")} />
			</Page>
		);
	const naming = desk.records.value.nameOf(id);
	const fern = naming?.taxon ? fernOf(naming.taxon) : null;
	const next = nextVisit(yearsOf(notes), desk.today.value);
	const label = desk.records.value.labelOf(id);
	const done = () => ask("doing");
	return (
		<Page
			place="field"
			when={say("field.plant.when", { label })}
			title={naming?.taxon ? <FernName naming={naming} /> : say("field.plant.unnamed")}
			windowTitle={label}
			sheet={
				asking === "sori" ? (
					<Sori plant={plant} fern={fern} done={done} />
				) : asking === "missing" ? (
					<Missing plant={plant} done={done} />
				) : (
					<>
						<Sight plant={plant} next={next} fern={fern} />
						<Doing plant={plant} ask={ask} />
					</>
				)
			}
		>
			<Story plant={plant} notes={notes} />
		</Page>
	);
}
