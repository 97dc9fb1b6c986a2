/** Notes that count nowhere yet: as written, what is wrong, what is safe, and answers. Never a list of red marks. */
import { useEffect, useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { dayLong, dayOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Empty, Waiting } from "../../parts/empty";
import { Page } from "../../parts/page";
import { back } from "../../parts/route";
import { Gap, Node, Row } from "../../parts/row";
import { save } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Ask, Foot, Way } from "../../parts/sheet";
import { Tile, Tiles } from "../../parts/tiles";
import { Write } from "../../parts/write";
import type { Json, StoredEntry } from "../../records/desk";
import { isRipeness, ripenessPicture } from "../field/ripeness";
import "./book.css";
import {
	asWritten,
	choicesFor,
	dataWith,
	dayWritten,
	firstFault,
	type Place,
	placeOf,
} from "./fixes";
import { RecordRow } from "./record-row";
import { Slip } from "./slip";
import { fieldText, valueText } from "./values";
import { WhyWrong } from "./why-wrong";

/** null until they have been read. */
function useFixing(): StoredEntry[] | null {
	const desk = useDesk();
	const [found, read] = useState<StoredEntry[] | null>(null);
	const records = desk.records.value;
	const { held, refused } = desk.safety.value;
	useEffect(() => {
		let wanted = true;
		if (records && held + refused >= 0)
			desk.needsFixing().then((entries) => {
				if (wanted) read(entries);
			});
		return () => {
			wanted = false;
		};
	}, [desk, records, held, refused]);
	return found;
}

interface PartProps {
	stored: StoredEntry;
	place: Place;
	fix: (data: { [field: string]: Json }, at?: string) => void;
}

/** The year is what is wrong, as often as not: it is always told. */
const dayWithYear = (day: string) => dayLong(day, "");

/** Another day: the calendar of the phone, for a note whose day cannot be. */
function FixDay({ stored, fix }: PartProps) {
	const desk = useDesk();
	const [other, choose] = useState<string | null>(null);
	const { entry } = stored;
	const written = dayWritten(entry.made);
	if (other !== null)
		return (
			<>
				<Write kind="date" label={say("book.fix.day")} value={other} onChange={choose} />
				<Answers>
					<Answer
						picture="do-yes"
						word={say("book.fix.save")}
						disabled={other === ""}
						onPress={() => fix(entry.data, other)}
					/>
				</Answers>
				<Gap />
			</>
		);
	return (
		<Answers>
			{written && (
				<Answer
					picture="do-yes"
					word={dayWithYear(written)}
					then={say("book.fix.day-written")}
					onPress={() => fix(entry.data, written)}
				/>
			)}
			<Answer
				picture="go-ahead"
				word={say("book.fix.other-day")}
				then={say("book.fix.other-day.then")}
				onPress={() => choose(written ?? dayOf(desk.today.peek()))}
			/>
		</Answers>
	);
}

function Choices(props: PartProps & { field: string; codes: readonly string[] }) {
	const { stored, field, codes, fix } = props;
	const records = useDesk().records.value;
	return (
		<Tiles>
			{codes.map((code) => (
				<Tile
					key={code}
					picture={(isRipeness(code) && ripenessPicture(code, null)) || "do-yes"}
					word={isRipeness(code) ? say(`field.ripeness.${code}`) : valueText(records, field, code)}
					onPress={() => fix(dataWith(stored.entry, field, code))}
				/>
			))}
		</Tiles>
	);
}

/** Only what is ringed is asked for; the rest of the note stays as it is. */
function FixField(props: PartProps & { field: string }) {
	const { stored, field, fix } = props;
	const before = stored.entry.data[field];
	const [text, write] = useState<string | null>(null);
	const codes = choicesFor(stored.entry, field);
	if (codes.length > 0 && codes.length <= 9) return <Choices {...props} codes={codes} />;
	if (text === null)
		return (
			<Answers>
				<Answer
					picture="object-label"
					word={say("book.fix.write")}
					then={say("book.fix.write.then")}
					onPress={() => write(before === undefined || before === null ? "" : String(before))}
				/>
				{before !== undefined && (
					<Answer
						picture="do-yes"
						word={say("book.fix.without")}
						then={say("book.fix.without.then")}
						onPress={() => fix(dataWith(stored.entry, field, undefined))}
					/>
				)}
			</Answers>
		);
	return (
		<>
			<Write
				label={fieldText(field, stored.entry.kind)}
				value={text}
				onChange={write}
				maxLength={4000}
				first
			/>
			<Answers>
				<Answer
					picture="do-yes"
					word={say("book.fix.save")}
					onPress={() => fix(dataWith(stored.entry, field, asWritten(text, before)))}
				/>
			</Answers>
		</>
	);
}

function Fix(props: PartProps) {
	const { stored, place, fix } = props;
	if (place.part === "at") return <FixDay {...props} />;
	if (place.part === "data") return <FixField {...props} field={place.field} />;
	return (
		<Answers>
			<Answer
				picture="do-yes"
				word={say("book.fix.again")}
				then={say("book.fix.again.then")}
				onPress={() => fix(stored.entry.data)}
			/>
		</Answers>
	);
}

function Below(props: PartProps & { cross: () => void; more: number; next: () => void }) {
	return (
		<>
			<Ask>{say(props.place.part === "at" ? "book.fix.ask.day" : "book.fix.ask")}</Ask>
			<Fix {...props} />
			<Gap />
			<Answers>
				<Answer
					picture="do-later"
					word={say("book.fix.leave")}
					then={say("book.fix.leave.then")}
					onPress={() => back("/book")}
				/>
				{props.stored.state === "held" && (
					<Answer
						picture="do-cross-out"
						word={say("book.fix.cross")}
						then={say("book.fix.cross.then")}
						onPress={props.cross}
					/>
				)}
			</Answers>
			{props.more > 0 && (
				<Foot>
					<Way onPress={props.next}>{say("book.fix.next", { n: props.more })}</Way>
				</Foot>
			)}
		</>
	);
}

function One({ stored, n, next }: { stored: StoredEntry; n: number; next: () => void }) {
	const desk = useDesk();
	const [crossing, cross] = useState(false);
	const fault = firstFault(stored.errors);
	const place = fault ? placeOf(fault) : ({ part: "whole" } as const);
	const fix = (data: { [field: string]: Json }, at?: string) =>
		void save(say("book.fix.saved"), () => desk.verbs.fixHeld(stored.id, data, at));
	return (
		<Page
			place="book"
			when={say("book.fix.when")}
			title={say("book.fix.title", { n })}
			sheet={
				crossing ? (
					<WhyWrong stored={stored} done={() => cross(false)} />
				) : (
					<Below
						stored={stored}
						place={place}
						fix={fix}
						cross={() => cross(true)}
						more={n - 1}
						next={next}
					/>
				)
			}
		>
			<Row
				alarm
				picture="do-fix"
				main={say("book.fix.nowhere")}
				under={say(stored.state === "refused" ? "book.fix.safe.refused" : "book.fix.safe.held")}
			/>
			<Slip stored={stored} wrong={place} />
			{fault && (
				<Node>
					{fault.message} {fault.fix} {stored.errors.length === 1 && say("book.fix.rest")}
				</Node>
			)}
			<RecordRow id={stored.entry.about} under={say("book.fix.until")} />
		</Page>
	);
}

export default function Fixing() {
	const found = useFixing();
	const [skipped, skip] = useState(0);
	if (!found) return <Waiting words={say("parts.waiting")} />;
	const stored = found[skipped % Math.max(1, found.length)];
	if (!stored)
		return (
			<Page
				place="book"
				when={say("book.fix.when")}
				title={say("book.fix.none")}
				sheet={
					<Foot>
						<Way to="/book">{say("book.back")}</Way>
					</Foot>
				}
			>
				<Empty picture="do-fix" words={say("book.fix.none")} under={say("book.fix.none.under")} />
			</Page>
		);
	return <One key={stored.id} stored={stored} n={found.length} next={() => skip(skipped + 1)} />;
}
