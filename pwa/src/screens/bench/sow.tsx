import { useEffect } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import { type Draft, useDraft } from "../../parts/draft";
import { Waiting } from "../../parts/empty";
import { BigNumber } from "../../parts/number";
import { Page } from "../../parts/page";
import { route } from "../../parts/route";
import { save } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Ask, Foot, Way } from "../../parts/sheet";
import { numberOf } from "../../parts/standing";
import { FernName, fullName } from "../../parts/taxon";
import "./bench.css";
import { freshForm, nextForm, type SowForm, sowInput, stepNow } from "./sow-form";
import { Clean, HowThick, Labelled, WhichMix, WhichPacket, WhichShelf } from "./sow-questions";
import { SowSteps } from "./sow-steps";

const questions = {
	packet: WhichPacket,
	shelf: WhichShelf,
	mix: WhichMix,
	clean: Clean,
	density: HowThick,
	label: Labelled,
};

/** The last step: closed, and saved. */
function Close({ form, draft }: { form: SowForm; draft: Draft<SowForm> }) {
	const desk = useDesk();
	const box = form.half?.label ?? form.number;
	const sow = async () => {
		const saved = await save(say("bench.sow.saved", { box }), () => desk.verbs.sow(sowInput(form)));
		if (saved) draft.set(nextForm(form, saved.made.box, desk.verbs.nextNumber("box")));
	};
	const two = !form.half && !form.control && !form.sharing;
	return (
		<>
			<Ask>{say("bench.sow.ask-close")}</Ask>
			<Answers>
				<Answer
					main
					word={say("bench.sow.save", { box })}
					picture="cover-closed"
					then={say("bench.sow.save-then")}
					onPress={() => void sow()}
				/>
			</Answers>
			{two && (
				<Foot>
					<Way onPress={() => draft.set({ sharing: "halves" })}>{say("bench.sow.halves")}</Way>
					<Way onPress={() => draft.set({ sharing: "together" })}>{say("bench.sow.together")}</Way>
				</Foot>
			)}
		</>
	);
}

function Asked({ form, draft }: { form: SowForm; draft: Draft<SowForm> }) {
	const step = stepNow(form);
	if (step === "close") return <Close form={form} draft={draft} />;
	const Question = questions[step];
	return (
		<>
			<Question key={step} form={form} set={(patch) => draft.set(patch)} />
			{form.sown > 0 && step === "packet" && (
				<Foot>
					<Way to="/bench">{say("bench.sow.stop")}</Way>
				</Foot>
			)}
		</>
	);
}

/** The form of today: an older sitting is over, and a number that has been used since is not offered again. */
function useSitting(): Draft<SowForm> {
	const desk = useDesk();
	const today = desk.today.value;
	const number = desk.verbs.nextNumber("box");
	const draft = useDraft<SowForm>("sow", () => freshForm(today, number));
	const { value } = draft;
	const packet = route.value.query.get("packet");
	useEffect(() => {
		if (!value) return;
		if (value.day !== today) draft.set(freshForm(today, number));
		else if (value.number !== number) draft.set({ number });
		if (packet && !value.packets.length) draft.set({ packets: [packet] });
	}, [value === null]);
	return draft;
}

/** A sowing day, box after box: one question at a time, the number of the box before it is saved. */
export default function Sow() {
	const desk = useDesk();
	const draft = useSitting();
	const form = draft.value;
	if (!form) return <Waiting words={say("parts.waiting")} />;
	const [packet] = form.packets;
	const naming = packet ? desk.records.value.nameOf(packet) : null;
	const plain = form.control ? say("bench.box.control") : say("bench.sow.title");
	return (
		<Page
			place="bench"
			when={form.sown ? say("bench.sow.when-sown", { n: form.sown }) : say("bench.sow.when")}
			title={packet ? <FernName naming={naming} /> : plain}
			windowTitle={naming?.taxon ? fullName(naming) : plain}
			sheet={<Asked form={form} draft={draft} />}
		>
			<BigNumber
				number={numberOf(form.half?.label ?? form.number)}
				aside={form.half ? say("bench.sow.other-half") : say("bench.sow.write-it")}
			/>
			<SowSteps form={form} set={(patch) => draft.set(patch)} />
		</Page>
	);
}
