/** A cut: the number first, to be copied on the packet; then what is offered, how ripe, how much; then saved. */
import { useState } from "preact/hooks";
import { Answer, Answers, Beside } from "../../parts/answer";
import { dayLong, dayOf, timeOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Waiting } from "../../parts/empty";
import { BigNumber } from "../../parts/number";
import { Page } from "../../parts/page";
import { PhotoSide, Picture } from "../../parts/photo";
import { go, route } from "../../parts/route";
import { Gap, Node, Row } from "../../parts/row";
import { save, showFault } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Ask, Remark, Way } from "../../parts/sheet";
import type { Fern } from "../../reckoning/ferns";
import { fernOf } from "../../reckoning/ferns";
import type { Desk, Naming } from "../../records/desk";
import { ChooseFern } from "./choose-fern";
import { ChoosePlace } from "./choose-place";
import { type CutForm, type Cutting, cutInput, isEarlier, useCut } from "./cut-form";
import { CutMore } from "./cut-more";
import { FernRow, SpotRow } from "./fern-line";
import "./field.css";
import { useHere } from "./field-when";
import { RipenessTiles } from "./ripeness";
import { ShapeTiles } from "./shapes";
import { TakenBits } from "./taken";

/** The name that the cut will bear: its own, else the plant's. */
function namingOf(desk: Desk, form: CutForm): Pick<Naming, "taxon"> | null {
	return form.naming ?? (form.plant === null ? null : desk.records.value.nameOf(form.plant));
}

function titleOf(form: CutForm, now: string, today: string): string {
	if (isEarlier(form.begun, now) && form.begun)
		return say("field.cut.title.earlier", {
			day: dayLong(dayOf(form.begun), today),
			time: timeOf(form.begun),
		});
	return say("field.cut.title", { time: timeOf(form.begun ?? now) });
}

interface PartProps {
	cutting: Cutting;
	fern: Fern | null;
	/** The address of this screen with a panel open. */
	panel: (name: string) => string;
}

/** What is read before the cut: number, fern, place, caution. */
function Above({ cutting, fern, panel }: PartProps) {
	const desk = useDesk();
	const { form, drop } = cutting;
	return (
		<div class="cut-above">
			<BigNumber
				number={form.number.replace(" ", "\u00a0")}
				aside={
					<>
						{say("field.cut.write")}
						<br />
						{say("field.cut.write.2")}
					</>
				}
			/>
			<FernRow naming={namingOf(desk, form)} fern={fern} to={panel("fern")} />
			<SpotRow
				records={desk.records.value}
				spot={form}
				accuracy={(form.fix ?? desk.position.value.fix)?.uncertainty_m ?? null}
				to={panel("place")}
			/>
			<Node>{say(fern?.ask ? "field.cut.caution.ask" : "field.cut.caution")}</Node>
			{fern?.ripeNote && <Row picture="object-lens" under={fern.ripeNote} aside />}
			{form.photo && <Picture sha256={form.photo.sha256} alt={say("field.cut.photo-there")} />}
			<div class="pad ways">
				<Way to={panel("more")}>{say("field.cut.more")}</Way>
				{!fern && <Way to={panel("shape")}>{say("field.shape.way")}</Way>}
				{form.begun !== null && <Way onPress={drop}>{say("field.cut.discard")}</Way>}
			</div>
		</div>
	);
}

/** What is pressed: how ripe, how much, save. */
function Below({ cutting, fern }: Omit<PartProps, "panel">) {
	const desk = useDesk();
	const { form, set, drop } = cutting;
	const [missed, miss] = useState(false);
	const saveCut = async () => {
		const { taken } = form;
		if (taken === null) return miss(true);
		const saved = await save(say("field.cut.saved", { number: form.number }), () =>
			desk.verbs.cut(cutInput(form, taken, desk.now())),
		);
		if (!saved) return;
		drop();
		go("/field", { replace: true });
	};
	return (
		<div class="cut">
			<Ask>{say("field.ripest")}</Ask>
			<RipenessTiles
				sorus={fern?.sorus ?? form.sorus}
				chosen={form.ripeness}
				choose={(ripeness) => set({ ripeness: form.ripeness === ripeness ? null : ripeness })}
			/>
			<Gap />
			{missed && form.taken === null && <Remark>{say("field.cut.taken.first")}</Remark>}
			<TakenBits taken={form.taken} grown={form.grown} set={set} />
			<Gap />
			<Answers>
				<Beside>
					<Answer
						main
						picture="object-collection"
						word={say("field.cut.save")}
						onPress={() => void saveCut()}
					/>
					<PhotoSide
						label={say(form.photo ? "field.cut.photo-there" : "field.photo")}
						taken={form.photo !== null}
						onPhoto={(photo) => set({ photo })}
						onFault={showFault}
					/>
				</Beside>
			</Answers>
		</div>
	);
}

const panelAddress = (query: URLSearchParams) => (name: string | null) => {
	const next = new URLSearchParams(query);
	next.delete("choose");
	if (name) next.set("choose", name);
	return `/field/cut${next.size ? `?${next}` : ""}`;
};

export default function Cut() {
	const desk = useDesk();
	const { query } = route.value;
	const here = useHere();
	const cutting = useCut(query.get("plant"));
	const panel = panelAddress(query);
	if (!cutting) return <Waiting words={say("parts.waiting")} />;
	const { form, set } = cutting;
	const otherwise = panel(null);
	const choosing = query.get("choose");
	if (choosing === "fern")
		return (
			<ChooseFern
				choose={(naming) => set({ naming: naming ?? { taxon: null, sure: "unknown" } })}
				otherwise={otherwise}
			/>
		);
	if (choosing === "place")
		return <ChoosePlace spot={form} set={set} otherwise={otherwise} forCut />;
	if (choosing === "more") return <CutMore cutting={cutting} otherwise={otherwise} />;
	if (choosing === "shape")
		return <ShapeTiles choose={(sorus) => set({ sorus })} otherwise={otherwise} />;
	const taxon = namingOf(desk, form)?.taxon;
	const fern = taxon ? fernOf(taxon) : null;
	return (
		<Page
			place="field"
			when={here.when}
			title={titleOf(form, desk.now(), desk.today.value)}
			sheet={<Below cutting={cutting} fern={fern} />}
		>
			<Above cutting={cutting} fern={fern} panel={panel} />
		</Page>
	);
}
