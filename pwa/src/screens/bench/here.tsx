import { pictureOf } from "../../parts/answering";
import { useDesk } from "../../parts/desk";
import { type Draft, useDraft } from "../../parts/draft";
import { Waiting } from "../../parts/empty";
import { BigNumber } from "../../parts/number";
import { Page } from "../../parts/page";
import { Node } from "../../parts/row";
import { save } from "../../parts/saved-strip";
import { capital, say } from "../../parts/say";
import { Ask, Foot, Way } from "../../parts/sheet";
import { growths, numberOf } from "../../parts/standing";
import { Tile, Tiles } from "../../parts/tiles";
import { Write } from "../../parts/write";
import type { Desk, Growth, Saved } from "../../records/desk";
import "./bench.css";
import { freshForm } from "./sow-form";
import { WhichShelf } from "./sow-questions";

interface HereForm {
	shelf: string | null;
	/** As written on the box: its own number or name; empty takes the next number. */
	label: string;
	/** As far as the person knows; empty is not known. */
	fern: string;
	noted: number;
}

const fresh = (): HereForm => ({ shelf: null, label: "", fern: "", noted: 0 });

/** A box that stands here already: no packet, no day of sowing is asked for. */
async function noteBox(desk: Desk, form: HereForm, growth: Growth): Promise<Saved | null> {
	const label = form.label.trim() || desk.verbs.nextNumber("box");
	const fern = form.fern.trim();
	const { shelf } = form;
	const saved = await save(say("bench.here.saved", { box: label }), () =>
		desk.verbs.sow({
			packets: [],
			already: true,
			boxName: label,
			...(shelf ? { shelf } : {}),
			...(fern ? { naming: { taxon: fern, sure: "received" } } : {}),
		}),
	);
	const sowing = saved?.made.sowing;
	if (sowing) await desk.verbs.seeGrowth(sowing, growth);
	return saved;
}

function WhatGrows({ form, draft }: { form: HereForm; draft: Draft<HereForm> }) {
	const desk = useDesk();
	const note = async (growth: Growth) => {
		if (await noteBox(desk, form, growth))
			draft.set({ label: "", fern: "", noted: form.noted + 1 });
	};
	return (
		<>
			<Ask>{say("bench.here.ask-growth")}</Ask>
			<Tiles>
				{growths.map((growth) => (
					<Tile
						key={growth}
						word={say(`parts.growth.${growth}`)}
						picture={pictureOf(growth) ?? "object-box"}
						onPress={() => void note(growth)}
					/>
				))}
			</Tiles>
			<Foot>
				<Way onPress={() => draft.set({ shelf: null })}>{say("bench.here.other-shelf")}</Way>
				<Way to={`/bench/shelf/${form.shelf ?? ""}`}>{say("bench.here.done")}</Way>
			</Foot>
		</>
	);
}

/** Today's shelf, box after box, as it stands: number, fern if known, what grows. History comes later or never. */
export default function Here() {
	const desk = useDesk();
	const draft = useDraft<HereForm>("here", fresh);
	const form = draft.value;
	if (!form) return <Waiting words={say("parts.waiting")} />;
	const next = desk.verbs.nextNumber("box");
	const place = (patch: { shelf?: string | null }) => draft.set({ shelf: patch.shelf ?? null });
	return (
		<Page
			place="bench"
			when={form.noted ? say("bench.here.when-noted", { n: form.noted }) : say("bench.here.when")}
			title={form.shelf ? capital(desk.records.value.labelOf(form.shelf)) : say("bench.here.title")}
			sheet={
				form.shelf ? (
					<WhatGrows form={form} draft={draft} />
				) : (
					<WhichShelf form={freshForm(desk.today.value, next)} set={place} />
				)
			}
		>
			<BigNumber number={numberOf(form.label.trim() || next)} aside={say("bench.here.number")} />
			{form.shelf && (
				<>
					<Write
						label={say("bench.here.label")}
						value={form.label}
						hint={say("bench.here.label-hint")}
						onChange={(label) => draft.set({ label })}
					/>
					<Write
						label={say("bench.here.fern")}
						value={form.fern}
						hint={say("bench.here.fern-hint")}
						onChange={(fern) => draft.set({ fern })}
					/>
				</>
			)}
			<Node>{say("bench.here.later")}</Node>
		</Page>
	);
}
