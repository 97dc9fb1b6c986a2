/** When one is told, and how: hour, zone, quiet hours; notices on this phone; a feed for one's own calendar. */
import { useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import { useDraft } from "../../parts/draft";
import { ErrorPart, faultOf } from "../../parts/error";
import { Page } from "../../parts/page";
import { Group, Node, Row, Say, Small } from "../../parts/row";
import { save, showSaved } from "../../parts/saved-strip";
import { isTextKey, say } from "../../parts/say";
import { Foot, Way } from "../../parts/sheet";
import { Bit } from "../../parts/tiles";
import { Write } from "../../parts/write";
import type { Desk, PersonInput, PushState } from "../../records/desk";
import "./book.css";
import { Away } from "./away";
import { copyWords } from "./hand-over";

interface When {
	notice_at: string;
	zone: string;
	from: string;
	to: string;
	detail: boolean;
}

/** The zone that this phone is in. */
const zoneHere = () => new Intl.DateTimeFormat().resolvedOptions().timeZone;

const text = (value: unknown): string => (typeof value === "string" ? value : "");

function kept(desk: Desk): When {
	const me = desk.me.peek();
	const said = me ? desk.records.peek().get(me.person)?.fields["person.described"] : undefined;
	const quiet = said?.quiet;
	const hours = quiet && typeof quiet === "object" && !Array.isArray(quiet) ? quiet : {};
	return {
		notice_at: text(said?.notice_at),
		zone: text(said?.zone) || zoneHere(),
		from: text(hours.from),
		to: text(hours.to),
		detail: said?.detail !== false,
	};
}

/** Only what is said and is not said already. */
export function personInput(form: When, before: When): PersonInput {
	const { notice_at, zone, from, to, detail } = form;
	const hours = from && to && (from !== before.from || to !== before.to);
	return {
		...(notice_at && notice_at !== before.notice_at ? { notice_at } : {}),
		...(zone && zone !== before.zone ? { zone } : {}),
		...(hours ? { quiet: { from, to } } : {}),
		...(detail !== before.detail ? { detail } : {}),
	};
}

function Hours({ form, set }: { form: When; set: (patch: Partial<When>) => void }) {
	const here = zoneHere();
	return (
		<>
			<Write
				kind="time"
				label={say("book.remind.at")}
				value={form.notice_at}
				onChange={(notice_at) => set({ notice_at })}
			/>
			<Write
				label={say("book.remind.zone")}
				value={form.zone}
				onChange={(zone) => set({ zone })}
				hint={here === form.zone ? undefined : say("book.remind.zone.here", { zone: here })}
			/>
			{here !== form.zone && (
				<div class="pad">
					<Way onPress={() => set({ zone: here })}>{say("book.remind.zone.take")}</Way>
				</div>
			)}
			<Group word={say("book.remind.quiet")} />
			<div class="hours">
				<Write
					kind="time"
					label={say("book.remind.quiet.from")}
					value={form.from}
					onChange={(from) => set({ from })}
				/>
				<Write
					kind="time"
					label={say("book.remind.quiet.to")}
					value={form.to}
					onChange={(to) => set({ to })}
				/>
			</div>
			<Group word={say("book.remind.names")} />
			<div class="bits halves padded">
				<Bit
					picture="object-fern"
					word={say("book.remind.names.yes")}
					pressed={form.detail}
					onPress={() => set({ detail: true })}
				/>
				<Bit
					picture="object-box"
					word={say("book.remind.names.no")}
					pressed={!form.detail}
					onPress={() => set({ detail: false })}
				/>
			</div>
			<Small>{say("book.remind.names.why")}</Small>
		</>
	);
}

/** How notices stand on this phone; without a server there are none. */
function Notices({ state }: { state: PushState | "not-joined" }) {
	const key = `book.remind.push.${state}.do`;
	return (
		<Row
			picture="store-phone"
			main={`${say("book.remind.notices")}: ${say(`book.remind.push.${state}`)}`}
			under={isTextKey(key) ? say(key) : undefined}
		/>
	);
}

function Calendar() {
	const desk = useDesk();
	const [link, show] = useState<string | null>(null);
	const [fault, fail] = useState<unknown>(null);
	const make = () => desk.server.calendarLink().then(show, fail);
	const end = () =>
		desk.server.revokeCalendarLink().then(() => {
			show(null);
			showSaved({ words: say("book.remind.calendar.revoked"), crossOut: null });
		}, fail);
	const copy = () =>
		copyWords(link ?? "").then(
			() => showSaved({ words: say("book.remind.calendar.copied"), crossOut: null }),
			fail,
		);
	return (
		<>
			<Group word={say("book.remind.calendar")} />
			<Small>{say("book.remind.calendar.why")}</Small>
			{fault !== null && <ErrorPart fault={faultOf(fault)} picture="store-server" />}
			{link && (
				<>
					<Say>
						<span class="address">{link}</span>
					</Say>
					<Node>{say("book.remind.calendar.here")}</Node>
				</>
			)}
			<div class="pad ways">
				{link ? (
					<Way onPress={() => void copy()}>{say("book.remind.calendar.copy")}</Way>
				) : (
					<Way onPress={() => void make()}>{say("book.remind.calendar.make")}</Way>
				)}
				<Way onPress={() => void end()}>{say("book.remind.calendar.revoke")}</Way>
			</div>
		</>
	);
}

/** From a tap: browsers refuse to ask otherwise. */
function PushDoing({ state }: { state: PushState }) {
	const desk = useDesk();
	const [fault, fail] = useState<unknown>(null);
	const turn = (way: () => Promise<void>) => way().then(() => fail(null), fail);
	return (
		<>
			{fault !== null && <ErrorPart fault={faultOf(fault)} />}
			{state === "off" && (
				<Answer
					picture="do-yes"
					word={say("book.remind.turn-on")}
					then={say("book.remind.turn-on.then")}
					onPress={() => void turn(() => desk.server.turnPushOn())}
				/>
			)}
			{state === "on" && (
				<Answer
					picture="do-later"
					word={say("book.remind.turn-off")}
					onPress={() => void turn(() => desk.server.turnPushOff())}
				/>
			)}
		</>
	);
}

export default function Reminders() {
	const desk = useDesk();
	const draft = useDraft("book.reminders", () => kept(desk));
	const before = kept(desk);
	const form = draft.value ?? before;
	const joined = desk.me.value?.joined === true;
	const state = desk.server.push.value;
	const input = personInput(form, before);
	const changed = Object.keys(input).length > 0;
	const keep = async () => {
		if (await save(say("book.remind.saved"), () => desk.verbs.setPerson(input))) draft.drop();
	};
	return (
		<Page
			place="book"
			when={say("book.remind.when")}
			title={
				before.notice_at
					? say("book.remind.title", { time: before.notice_at })
					: say("book.remind.title.none")
			}
			sheet={
				<>
					<Answers>
						{joined && <PushDoing state={state} />}
						<Answer
							main={changed}
							disabled={!changed}
							picture="do-yes"
							word={say("book.remind.save")}
							onPress={() => void keep()}
						/>
					</Answers>
					<Foot>
						<Way to="/book">{say("book.back")}</Way>
					</Foot>
				</>
			}
		>
			<Hours form={form} set={draft.set} />
			<Notices state={joined ? state : "not-joined"} />
			{joined && <Calendar />}
			<Away />
		</Page>
	);
}
