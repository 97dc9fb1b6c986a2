/** Days on which one looks after nothing: set as whole spans, each taken out by a tap. */
import { useState } from "preact/hooks";
import { dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Group, Row, Small } from "../../parts/row";
import { save } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Way } from "../../parts/sheet";
import { Write } from "../../parts/write";
import type { Desk } from "../../records/desk";

interface Span {
	from: string;
	to: string;
}

const isSpan = (value: unknown): value is Span =>
	value !== null &&
	typeof value === "object" &&
	typeof (value as Span).from === "string" &&
	typeof (value as Span).to === "string";

function spansOf(desk: Desk): Span[] {
	const me = desk.me.value;
	const said = me && desk.records.value.get(me.person)?.fields["person.described"]?.away;
	return Array.isArray(said) ? (said as unknown[]).filter(isSpan) : [];
}

export function Away() {
	const desk = useDesk();
	const today = desk.today.value;
	const [span, write] = useState<Span>({ from: "", to: "" });
	const spans = spansOf(desk);
	const set = (away: Span[]) =>
		save(say("book.remind.away.saved"), () => desk.verbs.setPerson({ away }));
	const whole = span.from !== "" && span.to >= span.from;
	const add = async () => {
		const away = [...spans, span].sort((a, b) => (a.from < b.from ? -1 : 1));
		if (await set(away)) write({ from: "", to: "" });
	};
	return (
		<>
			<Group word={say("book.remind.away")} />
			<Small>{say("book.remind.away.why")}</Small>
			{spans.map((one) => (
				<Row
					key={`${one.from} ${one.to}`}
					picture="do-away"
					main={say("book.remind.away.span", {
						from: dayShort(one.from, today),
						to: dayShort(one.to, today),
					})}
					right={
						<Way onPress={() => void set(spans.filter((kept) => kept !== one))}>
							{say("book.remind.away.drop")}
						</Way>
					}
				/>
			))}
			<div class="hours">
				<Write
					kind="date"
					label={say("book.remind.away.from")}
					value={span.from}
					onChange={(from) => write({ ...span, from })}
				/>
				<Write
					kind="date"
					label={say("book.remind.away.to")}
					value={span.to}
					onChange={(to) => write({ ...span, to })}
				/>
			</div>
			{whole && (
				<div class="pad">
					<Way onPress={() => void add()}>{say("book.remind.away.add")}</Way>
				</div>
			)}
		</>
	);
}
