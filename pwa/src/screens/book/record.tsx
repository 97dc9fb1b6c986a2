/** One record: where it came from, what came of it, what it is, all its notes. */
import { useState } from "preact/hooks";
import { dayOf, dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Empty, Waiting } from "../../parts/empty";
import { LinePicture } from "../../parts/line-picture";
import { Page } from "../../parts/page";
import { Picture } from "../../parts/photo";
import { route } from "../../parts/route";
import { Group, Node, Row } from "../../parts/row";
import { save } from "../../parts/saved-strip";
import { isTextKey, say } from "../../parts/say";
import { FernName } from "../../parts/taxon";
import type { FoldedRecord, GivenName, StoredEntry } from "../../records/desk";
import { ChooseFern } from "../field/choose-fern";
import "./book.css";
import { began, childrenOf, parentsOf, stopsOf } from "./lineage";
import { Notes } from "./notes";
import { keyOf, questionsOf, questionTitle } from "./question-list";
import { RecordDoing } from "./record-doing";
import { RecordRow } from "./record-row";
import { useEntries } from "./use-entries";
import { WhatItIs } from "./what-it-is";
import { WhyWrong } from "./why-wrong";

/** Where it came from and what came of it: a strip, then each as a row that opens it. */
function Line({ record }: { record: FoldedRecord }) {
	const desk = useDesk();
	const records = desk.records.value;
	const today = desk.today.value;
	const stops = stopsOf(records, record, today);
	const children = childrenOf(records, record);
	const parents = parentsOf(records, record);
	const day = (one: FoldedRecord) => {
		const at = began(one);
		return at ? dayShort(dayOf(at), today) : undefined;
	};
	const [first, last] = [stops[0]?.label ?? "", stops.at(-1)?.label ?? ""];
	return (
		<>
			{stops.length > 1 && (
				<LinePicture
					stops={stops}
					title={say("book.record.line")}
					label={say("book.record.line.label", { first, last })}
				/>
			)}
			{parents.length > 0 && <Group word={say("book.record.from")} />}
			{parents.map((one) => (
				<RecordRow key={one.id} id={one.id} right={day(one)} />
			))}
			{children.length > 0 && <Group word={say("book.record.came")} />}
			{children.map((one) => (
				<RecordRow key={one.id} id={one.id} right={day(one)} />
			))}
		</>
	);
}

function Photos({ record }: { record: FoldedRecord }) {
	const records = useDesk().records.value;
	const photos = records.photosOf(record.id);
	if (!photos.length) return null;
	const alt = say("book.record.photo", { label: records.labelOf(record.id) });
	return (
		<>
			<Group word={say("book.record.photos")} />
			{photos.map(({ sha256 }) => (
				<Picture key={sha256} sha256={sha256} alt={alt} />
			))}
		</>
	);
}

function Questions({ record }: { record: FoldedRecord }) {
	const records = useDesk().records.value;
	return (
		<>
			{questionsOf(records, record).map((asked) => (
				<Row
					key={keyOf(asked)}
					picture="do-two-names"
					main={questionTitle(records, asked)}
					under={say("book.questions.under")}
					to={`/book/questions?q=${encodeURIComponent(keyOf(asked))}`}
				/>
			))}
		</>
	);
}

function typeWord(record: FoldedRecord): string {
	const key = `book.one.${record.type}`;
	return say("book.record.when", { type: isTextKey(key) ? say(key) : say("book.one.unknown") });
}

function Shown({ record, entries }: { record: FoldedRecord; entries: StoredEntry[] | null }) {
	const desk = useDesk();
	const records = desk.records.value;
	const [crossing, cross] = useState<StoredEntry | null>(null);
	const naming = records.nameOf(record.id);
	const label = records.labelOf(record.id);
	const code = records.codeOf(record.id);
	return (
		<Page
			place="book"
			when={code ? `${typeWord(record)}, ${say("book.record.code", { code })}` : typeWord(record)}
			title={label}
			sheet={
				crossing ? (
					<WhyWrong stored={crossing} done={() => cross(null)} />
				) : (
					<RecordDoing record={record} />
				)
			}
		>
			{naming && <Row picture="object-fern" main={<FernName naming={naming} />} />}
			<Questions record={record} />
			<Line record={record} />
			<WhatItIs record={record} />
			<Photos record={record} />
			{records.onlyHere(record.id) && <Node>{say("book.record.only-here")}</Node>}
			{entries ? (
				<Notes record={record} entries={entries} cross={cross} />
			) : (
				<Waiting words={say("parts.waiting")} />
			)}
		</Page>
	);
}

export default function RecordScreen({ id }: { id: string }) {
	const desk = useDesk();
	const entries = useEntries(id);
	const record = desk.records.value.get(id);
	if (!record)
		return (
			<Page place="book" when={say("book.when")} title={say("book.record.gone")}>
				<Empty
					picture="go-book"
					words={say("book.record.gone")}
					under={say("book.record.gone.under")}
				/>
			</Page>
		);
	const name = (naming: GivenName | null) =>
		void save(say("book.record.named", { label: desk.records.peek().labelOf(id) }), () =>
			desk.verbs.giveName(id, naming ?? { taxon: null, sure: "unknown" }),
		);
	if (route.value.query.get("choose") === "fern")
		return <ChooseFern choose={name} otherwise={`/book/record/${id}`} />;
	return <Shown record={record} entries={entries} />;
}
