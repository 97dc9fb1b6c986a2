/** What exists only on this phone: the three stores, what would be lost, and a way out that needs no signal. */
import { useEffect, useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { dayOf, timeOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { ageText } from "../../parts/only-here";
import { Page } from "../../parts/page";
import { Pictogram, type PictogramName } from "../../parts/pictogram";
import { Node, Row } from "../../parts/row";
import { showFault, showSaved } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Remark, Way } from "../../parts/sheet";
import type { Desk, Safety, StoredEntry } from "../../records/desk";
import "./book.css";
import { handOver } from "./hand-over";
import { momentText } from "./people-words";
import { tell } from "./telling";

/** Thousands apart by a thin space, as in print. */
const figure = (n: number) => String(n).replace(/\B(?=(\d{3})+$)/g, "\u202f");

function StoreRow(props: { picture: PictogramName; n: number; what: string; under: string }) {
	return (
		<div class="row sto">
			<Pictogram name={props.picture} />
			<span class="fig n">{figure(props.n)}</span>
			<span class="w">
				<b>{props.what}</b>
				<small>{props.under}</small>
			</span>
		</div>
	);
}

/** How long ago the server was reached. The demo's days run ahead of the phone's clock, so there it is not told. */
function serverText(desk: Desk, { lastExchangeMs, clockOffMs }: Safety): string {
	if (!desk.me.value?.joined) return say("book.here.server.not-joined");
	if (!lastExchangeMs) return say("book.here.server.never");
	if (desk.demo.value) return say("book.here.server.reached");
	const wall = Date.parse(desk.now()) + (clockOffMs ?? 0);
	const age = wall - lastExchangeMs;
	return age < 60_000
		? say("book.here.server.now")
		: say("book.here.server.at", { age: ageText(age) });
}

function oldestText(ms: number | null): string {
	if (ms === null) return "";
	return ms < 60_000
		? say("book.here.phone.just")
		: say("book.here.phone.oldest", { age: ageText(ms) });
}

function phoneText({ oldestUnsentMs, unsentPhotos }: Safety): string {
	const said = [
		oldestText(oldestUnsentMs),
		unsentPhotos ? say("book.here.phone.photos", { n: unsentPhotos }) : "",
	];
	return said.filter(Boolean).join(", ");
}

function Stores() {
	const desk = useDesk();
	const safety = desk.safety.value;
	return (
		<>
			<StoreRow
				picture="store-phone"
				n={safety.unsent}
				what={say("book.here.phone")}
				under={phoneText(safety)}
			/>
			<StoreRow
				picture="store-server"
				n={safety.onServer}
				what={say("book.here.server")}
				under={serverText(desk, safety)}
			/>
			<StoreRow
				picture="store-backed-up"
				n={safety.backedUp}
				what={say("book.here.backed")}
				under={safety.backedUp ? "" : say("book.here.backed.none")}
			/>
			{safety.checking > 0 && (
				<Row
					picture="store-server"
					main={say("book.here.checking", { n: safety.checking })}
					under={say("book.here.checking.under")}
				/>
			)}
		</>
	);
}

/** What waits on this phone, the last first; read again whenever the count changes. */
function useUnsent(): StoredEntry[] {
	const desk = useDesk();
	const [entries, read] = useState<StoredEntry[]>([]);
	const { unsent } = desk.safety.value;
	useEffect(() => {
		let wanted = true;
		if (unsent >= 0)
			desk.unsentEntries().then((found) => {
				if (wanted) read([...found].reverse());
			});
		return () => {
			wanted = false;
		};
	}, [desk, unsent]);
	return entries;
}

const shownAtFirst = 5;

interface Thing {
	/** The note that tells most of it: a fact before a description. */
	telling: StoredEntry;
	notes: number;
}

/** What one did makes several notes: told once for each thing, the last written first. */
function thingsOf(entries: readonly StoredEntry[]): Thing[] {
	const things = new Map<string, Thing>();
	const plain = ({ entry }: StoredEntry) => entry.kind.endsWith(".described");
	for (const stored of entries) {
		const known = things.get(stored.entry.about);
		if (!known) things.set(stored.entry.about, { telling: stored, notes: 1 });
		else {
			known.notes += 1;
			if (plain(known.telling) && !plain(stored)) known.telling = stored;
		}
	}
	return [...things.values()];
}

function WouldBeLost() {
	const desk = useDesk();
	const entries = useUnsent();
	const [all, showAll] = useState(false);
	const records = desk.records.value;
	const today = desk.today.value;
	if (!entries.length) return null;
	const things = thingsOf(entries);
	const shown = all ? things : things.slice(0, shownAtFirst);
	const rest = things.length - shown.length;
	const time = (at: string) =>
		dayOf(at) === today && timeOf(at) ? timeOf(at) : momentText(dayOf(at), today);
	return (
		<>
			<div class="pad lose">
				<h2>{say("book.here.lose")}</h2>
			</div>
			{shown.map(({ telling: { id, entry }, notes }) => {
				const { text, picture } = tell(records, entry);
				const label = records.labelOf(entry.about);
				return (
					<div class="row en" key={id}>
						<Pictogram name={picture} />
						<span class="w">
							{notes > 1
								? say("book.here.row.more", { label, text, n: notes - 1 })
								: say("book.here.row", { label, text })}
						</span>
						<span class="r tn">{time(entry.at)}</span>
					</div>
				);
			})}
			{rest > 0 && (
				<Node>
					<Way onPress={() => showAll(true)}>
						{say("book.here.more", { n: rest, time: time(entries.at(-1)?.entry.at ?? "") })}
					</Way>
				</Node>
			)}
		</>
	);
}

/** Why they have not gone up, and whether anything need be done. */
function linkText(desk: Desk, { link, unsent }: Safety): string {
	if (!desk.me.value?.joined && link !== "shut-out" && link !== "signed-out")
		return say("book.here.link.alone");
	return unsent === 0 && link === "online" ? "" : say(`book.here.link.${link}`);
}

const fiveMinutes = 300_000;

function Troubles() {
	const { clockOffMs, persisted, refused } = useDesk().safety.value;
	const off = Math.abs(clockOffMs ?? 0);
	return (
		<>
			{refused > 0 && (
				<Row
					alarm
					picture="do-fix"
					main={say("book.here.refused", { n: refused })}
					to="/book/fixing"
				/>
			)}
			{off > fiveMinutes && (
				<Row picture="do-later" under={say("book.here.clock", { age: ageText(off) })} />
			)}
			{!persisted && <Node>{say("book.here.not-persisted")}</Node>}
		</>
	);
}

function Ways() {
	const desk = useDesk();
	const { exchanging, unsent, link } = desk.safety.value;
	const joined = desk.me.value?.joined;
	const toFile = async () => {
		try {
			const file = await desk.exportUnsent();
			if (await handOver(file))
				showSaved({ words: say("book.here.file.done", { name: file.name }), crossOut: null });
		} catch (thrown) {
			showFault(thrown);
		}
	};
	const send = () => desk.exchangeNow().catch(showFault);
	return (
		<Answers>
			{joined && link !== "shut-out" && link !== "signed-out" ? (
				<Answer
					picture="store-server"
					word={say(exchanging ? "book.here.sending" : "book.here.send")}
					then={say("book.here.send.then")}
					disabled={exchanging}
					onPress={() => void send()}
				/>
			) : (
				<Answer
					picture="store-server"
					word={say("book.here.join")}
					then={say("book.here.join.then")}
					to="/join"
				/>
			)}
			<Answer
				picture="store-backed-up"
				word={say("book.here.file")}
				then={say("book.here.file.then")}
				disabled={unsent === 0}
				onPress={() => void toFile()}
			/>
		</Answers>
	);
}

export default function OnlyHereScreen() {
	const desk = useDesk();
	const safety = desk.safety.value;
	const { unsent } = safety;
	const why = linkText(desk, safety);
	return (
		<Page
			place="book"
			when={say("book.here.when")}
			title={unsent ? say("book.here.title", { n: unsent }) : say("book.here.title.none")}
			sheet={
				<>
					<Ways />
					{why && <Remark>{why}</Remark>}
				</>
			}
		>
			<Stores />
			<Troubles />
			<WouldBeLost />
		</Page>
	);
}
