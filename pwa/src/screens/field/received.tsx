/** A packet came: its photo or its name as written, from whom, saved. Three taps; no place is asked for. */
import { useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { dayOf, dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { type Draft, useDraft } from "../../parts/draft";
import { Waiting } from "../../parts/empty";
import { Page } from "../../parts/page";
import { PhotoAnswer, Picture } from "../../parts/photo";
import { go } from "../../parts/route";
import { Gap, Step } from "../../parts/row";
import { save, showFault } from "../../parts/saved-strip";
import { say, sayWith } from "../../parts/say";
import { Ask, Foot, Remark, Way } from "../../parts/sheet";
import { numberOf } from "../../parts/standing";
import { Tag } from "../../parts/tag";
import { Taxon } from "../../parts/taxon";
import { Bit } from "../../parts/tiles";
import { Write } from "../../parts/write";
import type { ReceiveInput, TakenPhoto } from "../../records/desk";
import { present } from "./cut-form";
import "./field.css";
import { useGivers } from "./givers";

type What = "spores" | "plants" | "division";

interface ReceivedForm {
	photo: TakenPhoto | null;
	/** The photo has been asked for: taken, or not wanted. */
	photoDone: boolean;
	asWritten: string;
	nameDone: boolean;
	from: string;
	year: string;
	theirNumber: string;
	what: What | null;
	promised: string;
}

const empty = (): ReceivedForm => ({
	photo: null,
	photoDone: false,
	asWritten: "",
	nameDone: false,
	from: "",
	year: "",
	theirNumber: "",
	what: null,
	promised: "",
});

export function receiveInput(form: ReceivedForm, from: string): ReceiveInput {
	const { asWritten, theirNumber, year, what, promised, photo } = form;
	return present({
		asWritten: asWritten.trim(),
		from: from.trim(),
		theirNumber: theirNumber.trim(),
		year: year.trim(),
		what,
		promised: promised.trim(),
		photo,
	});
}

interface PartProps {
	form: ReceivedForm;
	set: Draft<ReceivedForm>["set"];
}

/** The three steps, each a way back to it. */
function Steps({ form, set }: PartProps) {
	const named = form.asWritten.trim();
	const name = named
		? sayWith("field.received.name.is", { name: <Taxon name={named} /> })
		: say(form.photo ? "field.received.name.in-photo" : "field.received.name.unnamed");
	return (
		<>
			<Step
				state={form.photoDone ? "done" : "now"}
				word={say(
					form.photoDone && !form.photo ? "field.received.photo.skipped" : "field.received.photo",
				)}
				right="1"
				onPress={() => set({ photoDone: false })}
			/>
			<Step
				state={form.nameDone ? "done" : form.photoDone ? "now" : "todo"}
				word={form.nameDone ? name : say("field.received.name")}
				right="2"
				onPress={() => set({ photoDone: true, nameDone: false })}
			/>
			<Step
				state={form.photoDone && form.nameDone ? "now" : "todo"}
				word={say("field.received.from")}
				right="3"
			/>
		</>
	);
}

function AskPhoto({ set }: PartProps) {
	return (
		<>
			<Ask>{say("field.received.photo.ask")}</Ask>
			<Answers>
				<PhotoAnswer
					word={say("field.received.photo.take")}
					then={say("field.received.photo.then")}
					onPhoto={(photo) => set({ photo, photoDone: true })}
					onFault={showFault}
				/>
				<Answer
					picture="object-label"
					word={say("field.received.photo.skip")}
					onPress={() => set({ photo: null, photoDone: true })}
				/>
			</Answers>
		</>
	);
}

function AskName({ form, set }: PartProps) {
	return (
		<>
			<Ask>{say("field.received.name.ask")}</Ask>
			<Write
				label={say("field.received.name.write")}
				hint={say("field.received.name.hint")}
				value={form.asWritten}
				onChange={(asWritten) => set({ asWritten })}
				first={form.photo === null}
			/>
			<Answers>
				{form.asWritten.trim() || !form.photo ? (
					<Answer
						picture="do-yes"
						word={say("field.received.name.next")}
						onPress={() => set({ nameDone: true })}
					/>
				) : (
					<Answer
						picture="do-photo"
						word={say("field.received.name.keep")}
						onPress={() => set({ nameDone: true })}
					/>
				)}
			</Answers>
		</>
	);
}

function AskFrom({ form, set, keep }: PartProps & { keep: (from: string) => void }) {
	const desk = useDesk();
	const givers = useGivers(2);
	const [other, write] = useState(false);
	const number = numberOf(desk.verbs.nextNumber("packet"));
	if (other)
		return (
			<>
				<Write
					label={say("field.received.from.write")}
					value={form.from}
					onChange={(from) => set({ from })}
					first
				/>
				<Answers>
					<Answer
						main
						picture="object-received"
						word={say("field.received.from.save")}
						onPress={() => keep(form.from)}
					/>
				</Answers>
				<Foot>
					<Way onPress={() => write(false)}>{say("field.plant.back")}</Way>
				</Foot>
			</>
		);
	return (
		<>
			<Ask>{say("field.received.from")}</Ask>
			<Answers>
				{givers.map(({ from, at }) => (
					<Answer
						key={from}
						picture="object-received"
						word={from}
						then={say("field.received.from.last", { day: dayShort(dayOf(at), desk.today.value) })}
						onPress={() => keep(from)}
					/>
				))}
				<Answer
					picture="object-label"
					word={say("field.received.from.else")}
					then={say("field.received.from.else.then")}
					onPress={() => write(true)}
				/>
				<Answer
					picture="ripeness-cant-tell"
					word={say("field.received.from.unknown")}
					onPress={() => keep("")}
				/>
			</Answers>
			<Remark>
				{sayWith("field.received.saves-as", { tag: <Tag kind="packet" text={number} /> })}{" "}
				{!form.year.trim() && say("field.received.age")}
			</Remark>
		</>
	);
}

const whats = ["spores", "plants", "division"] as const satisfies readonly What[];
const whatPictures = {
	spores: "object-packet",
	plants: "object-pots",
	division: "object-division",
} as const;

/** What may stand on it besides the name; all of it may stay unsaid. */
function More({ form, set }: PartProps) {
	return (
		<>
			<div class="bits three-bits">
				{whats.map((what) => (
					<Bit
						key={what}
						picture={whatPictures[what]}
						word={say(`field.received.${what}`)}
						pressed={form.what === what}
						onPress={() => set({ what: form.what === what ? null : what })}
					/>
				))}
			</div>
			<Write
				label={say("field.received.number")}
				value={form.theirNumber}
				onChange={(theirNumber) => set({ theirNumber })}
			/>
			<Write
				label={say("field.received.year")}
				hint={say("field.received.year.hint")}
				value={form.year}
				onChange={(year) => set({ year })}
			/>
			<Write
				label={say("field.received.promised")}
				hint={say("field.received.promised.hint")}
				value={form.promised}
				onChange={(promised) => set({ promised })}
				maxLength={500}
			/>
		</>
	);
}

function Question(props: PartProps & { keep: (from: string) => void }) {
	const { form } = props;
	if (!form.photoDone) return <AskPhoto {...props} />;
	return form.nameDone ? <AskFrom {...props} /> : <AskName {...props} />;
}

export default function Received() {
	const desk = useDesk();
	const draft = useDraft("field.received", empty);
	const [more, open] = useState(false);
	const form = draft.value;
	if (!form) return <Waiting words={say("parts.waiting")} />;
	const keep = async (from: string) => {
		const label = desk.verbs.nextNumber("packet");
		const saved = await save(say("field.received.saved", { label }), () =>
			desk.verbs.receive(receiveInput(form, from)),
		);
		if (!saved) return;
		draft.drop();
		go("/field", { replace: true });
	};
	const parts = { form, set: draft.set };
	const done = Number(form.photoDone) + Number(form.nameDone);
	return (
		<Page
			place="field"
			when={say("field.received.when", { n: done })}
			title={say("field.received.title")}
			sheet={<Question {...parts} keep={(from) => void keep(from)} />}
		>
			{form.photo && (
				<Picture sha256={form.photo.sha256} alt={say("field.received.photo.alt")} size="full" />
			)}
			<Gap />
			<Steps {...parts} />
			<div class="pad">
				<Way onPress={() => open(!more)}>{say("field.received.more")}</Way>
			</div>
			{more && <More {...parts} />}
		</Page>
	);
}
