import type { ComponentChildren } from "preact";
import { useDesk } from "../../parts/desk";
import { Pictogram } from "../../parts/pictogram";
import { Step } from "../../parts/row";
import { say, sayWith } from "../../parts/say";
import { numberOf } from "../../parts/standing";
import { Tag } from "../../parts/tag";
import type { Shelves } from "../../records/desk";
import { isDone, reopened, type SowForm, type SowStep, stepNow, stepsOf } from "./sow-form";

/** What a step that is done says; what one to come will be. */
function wordOf(records: Shelves, form: SowForm, step: SowStep): ComponentChildren {
	const done = isDone(form, step);
	if (step === "packet" && form.control) return say("bench.step.control");
	if (step === "packet" && done)
		return sayWith("bench.step.only-open", {
			packet: form.packets.map((id) => (
				<Tag key={id} kind="packet" text={numberOf(records.labelOf(id))} />
			)),
		});
	if (step === "shelf" && form.shelf)
		return say("bench.step.shelf-done", { shelf: records.labelOf(form.shelf) });
	if (step === "mix" && done)
		return form.mix
			? say("bench.step.mix-done", { mix: records.labelOf(form.mix) })
			: say("bench.step.mix-unsaid");
	if (step === "density" && form.density)
		return say("bench.step.density-done", { density: say(`parts.density.${form.density}`) });
	return say(`bench.step.${step}`);
}

/** One square centimetre, drawn larger than life: what to aim at under the lens. */
function DensityPicture() {
	return (
		<div class="pad densities">
			<span>
				<Pictogram name="density-5" />
				{say("bench.density.thin")}
			</span>
			<span class="aim">
				<Pictogram name="density-15" />
				{say("bench.density.right")}
			</span>
			<span>
				<Pictogram name="density-50" />
				{say("bench.density.thick")}
			</span>
			<p class="small">{say("bench.density.scale")}</p>
		</div>
	);
}

/** The steps of this box as knots on the line; one that is done can be asked again. */
export function SowSteps({ form, set }: { form: SowForm; set: (patch: Partial<SowForm>) => void }) {
	const records = useDesk().records.value;
	const now = stepNow(form);
	return (
		<>
			{stepsOf(form).map((step) => {
				const done = isDone(form, step);
				return (
					<div key={step}>
						<Step
							state={done ? "done" : step === now ? "now" : "todo"}
							word={wordOf(records, form, step)}
							onPress={done ? () => set(reopened(form, step)) : undefined}
						/>
						{step === now && step === "density" && <DensityPicture />}
					</div>
				);
			})}
		</>
	);
}
