/** What is said of a cut now and then: a number that the packet bears already, how many plants, who else, a note. */
import { Answer, Answers } from "../../parts/answer";
import { Page } from "../../parts/page";
import { back } from "../../parts/route";
import { say } from "../../parts/say";
import { Write } from "../../parts/write";
import type { Cutting } from "./cut-form";

export function CutMore({ cutting, otherwise }: { cutting: Cutting; otherwise: string }) {
	const { form, set } = cutting;
	return (
		<Page
			place="field"
			when={say("field.more.when", { number: form.number })}
			title={say("field.more.title")}
			sheet={
				<Answers>
					<Answer picture="do-yes" word={say("field.place.done")} onPress={() => back(otherwise)} />
				</Answers>
			}
		>
			<Write
				label={say("field.more.number")}
				hint={say("field.more.number.hint")}
				value={form.number}
				onChange={(number) => set({ number })}
				maxLength={40}
			/>
			<Write
				label={say("field.more.plants")}
				kind="number"
				value={form.plants}
				onChange={(plants) => set({ plants })}
				maxLength={5}
			/>
			<Write
				label={say("field.more.collectors")}
				value={form.collectors}
				onChange={(collectors) => set({ collectors })}
			/>
			<Write
				label={say("field.more.note")}
				rows={3}
				maxLength={4000}
				value={form.note}
				onChange={(note) => set({ note })}
			/>
		</Page>
	);
}
