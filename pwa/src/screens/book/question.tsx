/** One question between notes: both versions side by side; this, that, or not yet. */
import { Answer, Answers } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import { Page } from "../../parts/page";
import { back, go } from "../../parts/route";
import { Node, Row } from "../../parts/row";
import { save } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Ask, Foot, Remark, Way } from "../../parts/sheet";
import { Taxon } from "../../parts/taxon";
import type { CrossQuestion } from "../../records/desk";
import { type Asked, type FieldQuestion, questionTitle } from "./question-list";
import { RecordRow } from "./record-row";
import { TwoPlaces } from "./two-places";
import { fixedOf, useVersions, type Version } from "./versions";

const leave = () => back("/book/questions");

/** "Between MV and JO". */
function whenOf(versions: readonly Version[]): string {
	const people = [...new Set(versions.map(({ who }) => who))];
	const [a = "", b] = people;
	return b ? say("book.question.when", { a, b }) : say("book.question.when.one", { a });
}

/** At the right: who said it; of a position, how good it is. */
function thenOf(version: Version): string {
	const fixed = fixedOf(version);
	return fixed ? say("book.question.good-to", { m: fixed.uncertainty_m }) : version.who;
}

const wordsOf = (version: Version, kind: string) =>
	kind === "name.given" ? <Taxon name={version.words} /> : version.words;

function FieldPage({ record, question }: { record: string; question: FieldQuestion }) {
	const desk = useDesk();
	const records = desk.records.value;
	const versions = useVersions(record, question);
	const title = questionTitle(records, { record, of: "field", question });
	const [a, b] = versions.map(fixedOf);
	const answer = async (version: Version) => {
		const saved = await save(say("book.question.answered", { value: version.words }), () =>
			desk.verbs.answerQuestion(record, question, version.value),
		);
		if (saved) go("/book/questions", { replace: true });
	};
	return (
		<Page
			place="book"
			when={whenOf(versions)}
			title={title}
			sheet={
				<>
					<Ask>{say("book.question.ask")}</Ask>
					<Answers>
						{versions.map((version) => (
							<Answer
								key={version.stored.id}
								picture="do-yes"
								word={wordsOf(version, question.kind)}
								then={thenOf(version)}
								onPress={() => void answer(version)}
							/>
						))}
						<Answer
							picture="do-later"
							word={say("book.question.not-yet")}
							then={say("book.question.not-yet.then")}
							onPress={leave}
						/>
					</Answers>
					<Remark>{say("book.question.keeps")}</Remark>
				</>
			}
		>
			{question.kind.startsWith("place.") && a && b && <TwoPlaces a={a} b={b} />}
			{versions.map((version) => (
				<Row
					key={version.stored.id}
					picture="object-label"
					main={wordsOf(version, question.kind)}
					under={say("book.question.by", { who: version.who, when: version.when })}
				/>
			))}
			<RecordRow id={record} />
		</Page>
	);
}

/** Two records with one number or code: one and the same, or two things. */
function Twice({ asked, cross }: { asked: Asked; cross: CrossQuestion }) {
	const desk = useDesk();
	const records = desk.records.value;
	const [elder, younger] = [...cross.records].sort();
	const same = async () => {
		if (!elder || !younger) return;
		const saved = await save(say("book.question.joined"), () =>
			desk.verbs.describe(younger, "record.described", { same_as: elder }),
		);
		if (saved) go("/book/questions", { replace: true });
	};
	return (
		<Page
			place="book"
			when={say("book.when")}
			title={questionTitle(records, asked)}
			sheet={
				<>
					<Ask>{say("book.question.ask.twice")}</Ask>
					<Answers>
						<Answer
							picture="do-yes"
							word={say("book.question.same")}
							then={say("book.question.same.then")}
							onPress={() => void same()}
						/>
						<Answer
							picture="do-two-names"
							word={say("book.question.two")}
							then={say("book.question.two.then")}
							to={`/book/record/${younger ?? asked.record}`}
						/>
						<Answer
							picture="do-later"
							word={say("book.question.not-yet")}
							then={say("book.question.not-yet.then")}
							onPress={leave}
						/>
					</Answers>
					<Remark>{say("book.question.keeps")}</Remark>
				</>
			}
		>
			{cross.records.map((id) => (
				<RecordRow key={id} id={id} />
			))}
		</Page>
	);
}

/** Told, and left to the person: there is nothing to choose between. */
function ToldOnly({ asked, words }: { asked: Asked; words: string }) {
	const records = useDesk().records.value;
	return (
		<Page
			place="book"
			when={say("book.when")}
			title={questionTitle(records, asked)}
			sheet={
				<Foot>
					<Way onPress={leave}>{say("book.back")}</Way>
				</Foot>
			}
		>
			<Node>{words}</Node>
			<RecordRow id={asked.record} />
		</Page>
	);
}

export function QuestionPage({ asked }: { asked: Asked }) {
	if (asked.of === "field") return <FieldPage record={asked.record} question={asked.question} />;
	if (asked.of === "sum")
		return <ToldOnly asked={asked} words={say("book.question.sum", { n: asked.value })} />;
	return asked.cross.question === "parent-missing" ? (
		<ToldOnly asked={asked} words={say("book.question.parent")} />
	) : (
		<Twice asked={asked} cross={asked.cross} />
	);
}
