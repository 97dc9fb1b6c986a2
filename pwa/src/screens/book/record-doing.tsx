/** What one does with a record in the Book: a note, a photo, its fern, its label; the rest is done where the thing is. */
import { useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import { useDraft } from "../../parts/draft";
import { save, showFault } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Ask, Foot, Way } from "../../parts/sheet";
import { PhotoTile, Tile, Tiles } from "../../parts/tiles";
import { Write } from "../../parts/write";
import type { FoldedRecord } from "../../records/desk";

/** Where a thing is worked with, beside the Book. */
const opens = {
	plant: ["/field/plant/", "object-plant"],
	box: ["/bench/box/", "object-box"],
	packet: ["/bench/packet/", "object-packet"],
	shelf: ["/bench/shelf/", "do-round"],
} as const;

const isOpened = (type: string | null): type is keyof typeof opens => (type ?? "") in opens;
const named = new Set(["plant", "gathering", "packet", "sowing", "clump", "pots"]);

const field = (record: FoldedRecord, name: string): string => {
	const value = record.fields["record.described"]?.[name];
	return typeof value === "string" ? value : "";
};

function WriteNote({ record, done }: { record: FoldedRecord; done: () => void }) {
	const desk = useDesk();
	const draft = useDraft(`book.note.${record.id}`, () => ({ note: "" }));
	const label = desk.records.value.labelOf(record.id);
	const note = draft.value?.note ?? "";
	const keep = async () => {
		const said = note.trim();
		if (!said) return;
		const whole = [field(record, "note"), said].filter(Boolean).join("\n");
		const saved = await save(say("book.record.note.saved", { label }), () =>
			desk.verbs.describe(record.id, "record.described", { note: whole }),
		);
		if (!saved) return;
		draft.drop();
		done();
	};
	return (
		<>
			<Ask>{say("book.record.note.ask")}</Ask>
			<Write
				label={say("book.record.note.write")}
				hint={say("book.record.note.hint")}
				value={note}
				onChange={(written) => draft.set({ note: written })}
				rows={3}
				maxLength={2000}
				first
			/>
			<Answers>
				<Answer
					main
					picture="do-yes"
					word={say("book.record.note.save")}
					onPress={() => void keep()}
				/>
			</Answers>
			<Foot>
				<Way onPress={done}>{say("book.back")}</Way>
			</Foot>
		</>
	);
}

function WriteLabel({ record, done }: { record: FoldedRecord; done: () => void }) {
	const desk = useDesk();
	const [name, write] = useState(field(record, "name") || desk.records.peek().labelOf(record.id));
	const keep = async () => {
		const label = name.trim();
		if (!label) return;
		const saved = await save(say("book.record.label.saved", { label }), () =>
			desk.verbs.describe(record.id, "record.described", { name: label }),
		);
		if (saved) done();
	};
	return (
		<>
			<Ask>{say("book.record.label.ask")}</Ask>
			<Write label={say("book.record.label.write")} value={name} onChange={write} first />
			<Answers>
				<Answer
					main
					picture="object-label"
					word={say("book.record.label.save")}
					onPress={() => void keep()}
				/>
			</Answers>
			<Foot>
				<Way onPress={done}>{say("book.back")}</Way>
			</Foot>
		</>
	);
}

type Doing = "nothing" | "note" | "label";

export function RecordDoing({ record }: { record: FoldedRecord }) {
	const desk = useDesk();
	const [doing, go] = useState<Doing>("nothing");
	const done = () => go("nothing");
	if (doing === "note") return <WriteNote record={record} done={done} />;
	if (doing === "label") return <WriteLabel record={record} done={done} />;
	const label = desk.records.value.labelOf(record.id);
	const { type } = record;
	return (
		<>
			{isOpened(type) && (
				<>
					<Answers>
						<Answer
							picture={opens[type][1]}
							word={say(`book.record.open.${type}`)}
							to={opens[type][0] + record.id}
						/>
					</Answers>
					<div class="gap" />
				</>
			)}
			<Tiles shape="four">
				<Tile picture="go-book" word={say("book.record.note")} onPress={() => go("note")} />
				<PhotoTile
					word={say("book.record.photo-add")}
					onPhoto={(photo) =>
						void save(say("book.record.photo.saved", { label }), () =>
							desk.verbs.addPhoto(record.id, photo),
						)
					}
					onFault={showFault}
				/>
				{named.has(type ?? "") && (
					<Tile
						picture="object-fern"
						word={say("book.record.name")}
						to={`/book/record/${record.id}?choose=fern`}
					/>
				)}
				<Tile picture="object-label" word={say("book.record.label")} onPress={() => go("label")} />
			</Tiles>
		</>
	);
}
