/** A plant to come back to: position by itself; a name, a fern, its sori and a photo if one likes. */
import { Answer, Answers, Beside } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import { type Draft, useDraft } from "../../parts/draft";
import { Waiting } from "../../parts/empty";
import { Page } from "../../parts/page";
import { PhotoSide, Picture } from "../../parts/photo";
import { go, route } from "../../parts/route";
import { Gap, Node } from "../../parts/row";
import { save, showFault } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Ask } from "../../parts/sheet";
import { Bit } from "../../parts/tiles";
import { Write } from "../../parts/write";
import { fernOf } from "../../reckoning/ferns";
import type { Fix, GivenName, LogPlantInput, Ripeness, TakenPhoto } from "../../records/desk";
import { ChooseFern } from "./choose-fern";
import { ChoosePlace, nowhere, type Spot } from "./choose-place";
import { isEarlier, present } from "./cut-form";
import { FernRow, SpotRow } from "./fern-line";
import "./field.css";
import { useHere } from "./field-when";
import { RipenessTiles } from "./ripeness";

interface PlantForm extends Spot {
	begun: string | null;
	fix: Fix | null;
	name: string;
	naming: GivenName | null;
	/** null: not said. */
	colony: boolean | null;
	ripeness: Ripeness | null;
	photo: TakenPhoto | null;
	note: string;
}

const empty = (): PlantForm => ({
	...nowhere,
	begun: null,
	fix: null,
	name: "",
	naming: null,
	colony: null,
	ripeness: null,
	photo: null,
	note: "",
});

function plantInput(form: PlantForm, now: string): LogPlantInput {
	const earlier = isEarlier(form.begun, now) ? { at: form.begun ?? now, fix: form.fix } : {};
	return {
		...present({
			name: form.name.trim(),
			naming: form.naming,
			place: form.place,
			placeWords: form.placeWords.trim(),
			colony: form.colony,
			ripeness: form.ripeness,
			photo: form.photo,
			note: form.note.trim(),
		}),
		...earlier,
	};
}

interface PartProps {
	form: PlantForm;
	set: Draft<PlantForm>["set"];
}

function Above({ form, set }: PartProps) {
	const desk = useDesk();
	const { state, fix } = desk.position.value;
	const accuracy = (form.fix ?? fix)?.uncertainty_m ?? null;
	const later = state === "waiting" ? "field.log.here.later" : "field.log.here.none";
	const label = desk.verbs.nextNumber("plant");
	return (
		<div class="cut-above">
			<FernRow
				naming={form.naming}
				fern={form.naming?.taxon ? fernOf(form.naming.taxon) : null}
				to="/field/plant?choose=fern"
			/>
			<SpotRow
				records={desk.records.value}
				spot={form}
				accuracy={accuracy}
				to="/field/plant?choose=place"
			/>
			{accuracy === null && <Node>{say(later)}</Node>}
			<Write
				label={say("field.log.name")}
				hint={say("field.log.name.hint", { label })}
				value={form.name}
				onChange={(name) => set({ name })}
			/>
			<Write
				label={say("field.log.note")}
				rows={2}
				maxLength={4000}
				value={form.note}
				onChange={(note) => set({ note })}
			/>
			{form.photo && <Picture sha256={form.photo.sha256} alt={say("field.cut.photo-there")} />}
		</div>
	);
}

function Colony({ form, set }: PartProps) {
	return (
		<div class="bits two-bits">
			<Bit
				picture="object-plant"
				word={say("field.log.one")}
				pressed={form.colony === false}
				onPress={() => set({ colony: form.colony === false ? null : false })}
			/>
			<Bit
				picture="object-colony"
				word={say("field.log.colony")}
				pressed={form.colony === true}
				onPress={() => set({ colony: form.colony === true ? null : true })}
			/>
		</div>
	);
}

function Below({ form, set, drop }: PartProps & { drop: () => void }) {
	const desk = useDesk();
	const label = form.name.trim() || desk.verbs.nextNumber("plant");
	const fern = form.naming?.taxon ? fernOf(form.naming.taxon) : null;
	const savePlant = async () => {
		const saved = await save(say("field.log.saved", { label }), () =>
			desk.verbs.logPlant(plantInput(form, desk.now())),
		);
		if (!saved) return;
		drop();
		const made = saved.made.plant;
		go(made ? `/field/plant/${made}` : "/field", { replace: true });
	};
	return (
		<div class="cut">
			<Ask>{say("field.ripest")}</Ask>
			<RipenessTiles
				sorus={fern?.sorus ?? null}
				chosen={form.ripeness}
				choose={(ripeness) => set({ ripeness: form.ripeness === ripeness ? null : ripeness })}
			/>
			<Gap />
			<Colony form={form} set={set} />
			<Gap />
			<Answers>
				<Beside>
					<Answer
						main
						picture="object-plant"
						word={say("field.log.save")}
						then={label}
						onPress={() => void savePlant()}
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

export default function LogPlant() {
	const desk = useDesk();
	const here = useHere();
	const draft = useDraft("field.plant", empty);
	const form = draft.value;
	if (!form) return <Waiting words={say("parts.waiting")} />;
	const set = (patch: Partial<PlantForm>) =>
		draft.set({
			begun: form.begun ?? desk.now(),
			fix: desk.position.peek().fix ?? form.fix,
			...patch,
		});
	const otherwise = "/field/plant";
	const choosing = route.value.query.get("choose");
	if (choosing === "fern")
		return <ChooseFern choose={(naming) => set({ naming })} otherwise={otherwise} />;
	if (choosing === "place")
		return <ChoosePlace spot={form} set={set} otherwise={otherwise} forCut={false} />;
	return (
		<Page
			place="field"
			when={here.when}
			title={say("field.log.title")}
			sheet={<Below form={form} set={set} drop={draft.drop} />}
		>
			<Above form={form} set={set} />
		</Page>
	);
}
