/** Book: what wants settling, a search over everything, and the records by what they are. */
import { useDesk } from "../../parts/desk";
import { Empty } from "../../parts/empty";
import { Page } from "../../parts/page";
import { go, route } from "../../parts/route";
import { Group, Row } from "../../parts/row";
import { isTextKey, say } from "../../parts/say";
import { Tile, Tiles } from "../../parts/tiles";
import { Write } from "../../parts/write";
import type { Found } from "../../records/desk";
import "./book.css";
import { NameUnder, RecordRow } from "./record-row";
import { RecordsOfType } from "./records-of-type";
import { typePicture } from "./telling";

const types = [
	"plant",
	"gathering",
	"packet",
	"box",
	"clump",
	"pots",
	"shelf",
	"mix",
	"place",
	"person",
] as const;

function Settling() {
	const desk = useDesk();
	const { held, refused, unsent } = desk.safety.value;
	const records = desk.records.value;
	const questions = records.questions().length + records.crossQuestions().length;
	const fixing = held + refused;
	return (
		<>
			{fixing > 0 && (
				<Row
					alarm
					picture="do-fix"
					main={say("book.fixing", { n: fixing })}
					under={say("book.fixing.under")}
					to="/book/fixing"
				/>
			)}
			{questions > 0 && (
				<Row
					picture="do-two-names"
					main={say("book.questions", { n: questions })}
					under={say("book.questions.under")}
					to="/book/questions"
				/>
			)}
			<Row
				picture="store-phone"
				main={say("book.only-here")}
				under={unsent ? say("book.only-here.some", { n: unsent }) : say("book.only-here.none")}
				to="/book/only-here"
			/>
		</>
	);
}

function ByType() {
	const records = useDesk().records.value;
	const there = types
		.map((type) => ({ type, n: records.ofType(type).length }))
		.filter(({ n }) => n > 0);
	return (
		<>
			<Group word={say("book.records")} />
			<ul class="kinds">
				{there.map(({ type, n }) => (
					<li key={type}>
						<Row
							picture={typePicture(type)}
							main={say(`book.type.${type}`)}
							right={<b class="fig">{n}</b>}
							to={`/book?type=${type}`}
						/>
					</li>
				))}
			</ul>
		</>
	);
}

const foundText = ({ in: where, text }: Found): string => {
	const key = `book.found.${where}`;
	return isTextKey(key) ? say(key, { text }) : text;
};

function Results({ found }: { found: Found[] }) {
	if (!found.length)
		return (
			<Empty picture="do-which" words={say("book.not-found")} under={say("book.not-found.under")} />
		);
	return (
		<>
			{found.map((one) => (
				<RecordRow
					key={one.record}
					id={one.record}
					under={
						one.in === "label" || one.in === "name" ? <NameUnder id={one.record} /> : foundText(one)
					}
				/>
			))}
		</>
	);
}

function Doors() {
	return (
		<div class="doors">
			<Tiles shape="four">
				<Tile picture="store-home" word={say("book.people.tile")} to="/book/people" />
				<Tile picture="do-later" word={say("book.reminders")} to="/book/reminders" />
				<Tile picture="object-dust" word={say("book.cautions")} to="/book/cautions" />
				<Tile picture="go-today" word={say("book.about")} to="/book/about" />
			</Tiles>
		</div>
	);
}

function titleOf(asked: string, found: Found[], size: number): string {
	if (asked)
		return found.length
			? say("book.title.found", { n: found.length })
			: say("book.title.not-found");
	return size ? say("book.title", { n: size }) : say("book.title.none");
}

export default function Book() {
	const desk = useDesk();
	const { query } = route.value;
	const type = query.get("type");
	if (type) return <RecordsOfType type={type} />;
	const asked = query.get("q") ?? "";
	const found = asked.trim() ? desk.search(asked) : [];
	const search = (words: string) =>
		go(words ? `/book?q=${encodeURIComponent(words)}` : "/book", { replace: true });
	return (
		<Page
			place="book"
			when={say("book.when")}
			title={titleOf(asked.trim(), found, desk.records.value.size)}
			sheet={
				<>
					<Write
						label={say("book.search")}
						hint={say("book.search.hint")}
						kind="search"
						value={asked}
						onChange={search}
					/>
					{!asked && <Doors />}
				</>
			}
		>
			{asked.trim() ? (
				<Results found={found} />
			) : (
				<>
					<Settling />
					<ByType />
				</>
			)}
		</Page>
	);
}
