/** All questions between notes; one alone is shown at once. */
import { useDesk } from "../../parts/desk";
import { Empty } from "../../parts/empty";
import { Page } from "../../parts/page";
import { route } from "../../parts/route";
import { Row } from "../../parts/row";
import { say } from "../../parts/say";
import { Foot, Way } from "../../parts/sheet";
import "./book.css";
import { QuestionPage } from "./question";
import { allQuestions, keyOf, questionTitle } from "./question-list";

export default function Questions() {
	const records = useDesk().records.value;
	const asked = allQuestions(records);
	const wanted = route.value.query.get("q");
	const one = asked.find((question) => keyOf(question) === wanted);
	if (one) return <QuestionPage asked={one} />;
	return (
		<Page
			place="book"
			when={say("book.when")}
			title={
				asked.length ? say("book.questions.title", { n: asked.length }) : say("book.questions.none")
			}
			sheet={
				<Foot>
					<Way to="/book">{say("book.back")}</Way>
				</Foot>
			}
		>
			{asked.length === 0 && (
				<Empty
					picture="do-two-names"
					words={say("book.questions.none")}
					under={say("book.questions.none.under")}
				/>
			)}
			{asked.map((question) => (
				<Row
					key={keyOf(question)}
					picture="do-two-names"
					main={questionTitle(records, question)}
					to={`/book/questions?q=${encodeURIComponent(keyOf(question))}`}
				/>
			))}
		</Page>
	);
}
