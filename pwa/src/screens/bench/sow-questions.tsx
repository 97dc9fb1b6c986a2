/** What the sheet asks at each step of a sowing day. */
import { useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import type { PictogramName } from "../../parts/pictogram";
import { save } from "../../parts/saved-strip";
import { capital, say } from "../../parts/say";
import { Ask, Foot, Remark, Way } from "../../parts/sheet";
import { FernName } from "../../parts/taxon";
import type { FoldedRecord } from "../../records/desk";
import { inOrder } from "./packets";
import type { Density, SowForm } from "./sow-form";

export interface QuestionProps {
	form: SowForm;
	set: (patch: Partial<SowForm>) => void;
}

const fewPackets = 3;

function NoPackets() {
	return (
		<>
			<Ask>{say("bench.sow.no-packets")}</Ask>
			<Answers>
				<Answer word={say("bench.received")} picture="object-received" to="/field/received" />
				<Answer
					word={say("bench.here")}
					picture="object-box"
					then={say("bench.here-then")}
					to="/bench/here"
				/>
			</Answers>
		</>
	);
}

/** Which packet: those not sown yet first; all of them on demand. */
export function WhichPacket({ form, set }: QuestionProps) {
	const records = useDesk().records.value;
	const [all, showAll] = useState(false);
	const left = inOrder(records, records.ofType("packet")).filter(
		(packet) => !form.packets.includes(packet.id),
	);
	if (!left.length && !form.packets.length) return <NoPackets />;
	const shown = all ? left : left.slice(0, fewPackets);
	const take = (packet: FoldedRecord) => set({ packets: [...form.packets, packet.id] });
	return (
		<>
			<Ask>{form.packets.length ? say("bench.sow.ask-second") : say("bench.sow.ask-packet")}</Ask>
			<Answers>
				{shown.map((packet) => (
					<Answer
						key={packet.id}
						word={capital(records.labelOf(packet.id))}
						picture="object-packet"
						then={<FernName naming={records.nameOf(packet.id)} />}
						onPress={() => take(packet)}
					/>
				))}
			</Answers>
			<Foot>
				{left.length > shown.length ? (
					<Way onPress={() => showAll(true)}>
						{say("bench.sow.all-packets", { n: left.length })}
					</Way>
				) : (
					<span />
				)}
				{form.sown > 0 && !form.packets.length && (
					<Way onPress={() => set({ control: true })}>{say("bench.sow.control")}</Way>
				)}
			</Foot>
			<Remark>{say("bench.sow.cold")}</Remark>
		</>
	);
}

/** Where it will stand: a shelf that is there, or a new one in one tap. */
export function WhichShelf({ set }: QuestionProps) {
	const desk = useDesk();
	const shelves = desk.records.value.ofType("shelf");
	const make = async (stands: "shelf" | "sill") => {
		const name = say(shelves.length ? `bench.sow.another-${stands}` : `bench.sow.first-${stands}`, {
			n: shelves.length + 1,
		});
		const light = stands === "shelf" ? "lamps" : "window";
		const saved = await save(say("bench.sow.shelf-made", { shelf: name }), () =>
			desk.verbs.makeShelf({ name, stands, light }),
		);
		if (saved?.made.shelf) set({ shelf: saved.made.shelf });
	};
	return (
		<>
			<Ask>{say("bench.sow.ask-shelf")}</Ask>
			<Answers>
				{shelves.slice(0, 3).map((shelf) => (
					<Answer
						key={shelf.id}
						word={capital(desk.records.value.labelOf(shelf.id))}
						picture={
							shelf.fields["shelf.described"]?.stands === "sill" ? "object-sill" : "object-shelf"
						}
						onPress={() => set({ shelf: shelf.id })}
					/>
				))}
				<Answer
					word={say("bench.sow.new-shelf")}
					picture="object-shelf"
					then={say("bench.sow.under-lamps")}
					onPress={() => void make("shelf")}
				/>
				<Answer
					word={say("bench.sow.new-sill")}
					picture="object-sill"
					then={say("bench.sow.by-window")}
					onPress={() => void make("sill")}
				/>
			</Answers>
		</>
	);
}

/** Which lot of mix; it may stay unsaid. */
export function WhichMix({ set }: QuestionProps) {
	const desk = useDesk();
	const records = desk.records.value;
	const mixes = records.ofType("mix").slice(-2);
	const make = async () => {
		const name = desk.verbs.nextNumber("mix");
		const saved = await save(say("bench.sow.mix-made", { mix: name }), () =>
			desk.verbs.makeMix({ name }),
		);
		if (saved?.made.mix) set({ mix: saved.made.mix, mixAsked: true });
	};
	return (
		<>
			<Ask>{say("bench.sow.ask-mix")}</Ask>
			<Answers>
				{mixes.map((mix) => (
					<Answer
						key={mix.id}
						word={capital(records.labelOf(mix.id))}
						picture="object-mix"
						onPress={() => set({ mix: mix.id, mixAsked: true })}
					/>
				))}
				<Answer
					word={say("bench.sow.new-mix")}
					picture="object-mix"
					then={desk.verbs.nextNumber("mix")}
					onPress={() => void make()}
				/>
				<Answer
					word={say("bench.sow.no-mix")}
					picture="do-later"
					then={say("bench.sow.no-mix-then")}
					onPress={() => set({ mixAsked: true })}
				/>
			</Answers>
			<Remark>{say("bench.sow.dust")}</Remark>
		</>
	);
}

/** A stray spore mixes a box for good, and shows only a year later. */
export function Clean({ form, set }: QuestionProps) {
	const records = useDesk().records.value;
	const [packet] = form.packets;
	return (
		<>
			<Ask>{say("bench.sow.ask-clean")}</Ask>
			<Answers>
				<Answer
					word={say("bench.sow.is-clean")}
					picture="do-yes"
					under={
						packet
							? say("bench.sow.only-open", { packet: records.labelOf(packet) })
							: say("bench.sow.none-open")
					}
					onPress={() => set({ clean: true })}
				/>
			</Answers>
			<Remark>{say("bench.sow.stray")}</Remark>
		</>
	);
}

const densities: readonly { density: Density; picture: PictogramName }[] = [
	{ density: "thin", picture: "density-5" },
	{ density: "right", picture: "density-15" },
	{ density: "thick", picture: "density-50" },
];

/** How thick the dust lies on a square centimetre. */
export function HowThick({ set }: QuestionProps) {
	return (
		<>
			<Ask>{say("bench.sow.ask-density")}</Ask>
			<Answers>
				{densities.map(({ density, picture }) => (
					<Answer
						key={density}
						word={say(`bench.sow.about-${density}`)}
						picture={picture}
						then={say(`bench.sow.then-${density}`)}
						onPress={() => set({ density })}
					/>
				))}
			</Answers>
		</>
	);
}

/** The label goes in before the lid, and on the body: lids are swapped. */
export function Labelled({ form, set }: QuestionProps) {
	return (
		<>
			<Ask>{say("bench.sow.ask-label", { box: form.half?.label ?? form.number })}</Ask>
			<Answers>
				<Answer
					word={say("bench.sow.is-labelled")}
					picture="object-label"
					then={say("bench.sow.is-labelled-then")}
					onPress={() => set({ labelled: true })}
				/>
			</Answers>
			<Remark>{say("bench.sow.lids")}</Remark>
		</>
	);
}
