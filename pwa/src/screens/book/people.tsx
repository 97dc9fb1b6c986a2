/** People and phones: who shares these records, what each may do, which phones; invitations. */
import { useEffect, useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { dayOf, dayShort } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { Waiting } from "../../parts/empty";
import { ErrorPart, faultOf } from "../../parts/error";
import { Page } from "../../parts/page";
import { Group, Node, Row } from "../../parts/row";
import { showSaved } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Ask, Foot, Remark, Way } from "../../parts/sheet";
import type { DeviceRow, InvitationRow, PersonRow, Role } from "../../records/desk";
import "./book.css";
import { Invite } from "./invite";
import { whoText } from "./people-words";

const roles = ["owner", "grower", "watcher", "onlooker"] as const satisfies readonly Role[];

interface Known {
	people: PersonRow[];
	invitations: InvitationRow[];
}

/** Who the server says there is; asked anew after each change. Invitations are an owner's. */
function useServerPeople() {
	const desk = useDesk();
	const [known, found] = useState<Known | null>(null);
	const [fault, fail] = useState<unknown>(null);
	const [turn, again] = useState(0);
	const joined = desk.me.value?.joined === true;
	const owner = desk.me.value?.role === "owner";
	useEffect(() => {
		let wanted = turn >= 0;
		if (!joined) return;
		const invitations = owner ? desk.server.invitations() : Promise.resolve([]);
		Promise.all([desk.server.people(), invitations]).then(
			([people, open]) => {
				if (wanted) found({ people, invitations: open ?? [] });
			},
			(thrown: unknown) => {
				if (wanted) fail(thrown);
			},
		);
		return () => {
			wanted = false;
		};
	}, [desk, joined, owner, turn]);
	return { known, fault, joined, owner, again: () => again((n) => n + 1) };
}

/** Do something that needs a signal, then say so or say what went wrong. */
function useServerDoing(again: () => void, done: () => void) {
	const [fault, fail] = useState<unknown>(null);
	const act = async (words: string, doing: () => Promise<unknown>) => {
		try {
			await doing();
			fail(null);
			showSaved({ words, crossOut: null });
			again();
			done();
		} catch (thrown) {
			fail(thrown);
		}
	};
	return { fault, act };
}

export type Act = ReturnType<typeof useServerDoing>["act"];

function Phone(props: { device: DeviceRow; shut: (() => void) | null }) {
	const desk = useDesk();
	const { device, shut } = props;
	const mine = device.id === desk.me.value?.device;
	const seen = device.lastSeen
		? say("book.people.phone.seen", { when: dayShort(dayOf(device.lastSeen), desk.today.value) })
		: say("book.people.phone.never");
	return (
		<Row
			picture="store-phone"
			main={device.shutOut ? <s>{device.label}</s> : device.label}
			under={
				device.shutOut ? say("book.people.phone.out") : mine ? say("book.people.phone.this") : seen
			}
			right={
				shut && !mine && !device.shutOut && <Way onPress={shut}>{say("book.people.shut")}</Way>
			}
		/>
	);
}

type Asking =
	| { of: "nothing" }
	| { of: "invite" }
	| { of: "role"; person: PersonRow }
	| { of: "shut"; person: PersonRow; device: DeviceRow };

function Person(props: { person: PersonRow; owner: boolean; ask: (asking: Asking) => void }) {
	const me = useDesk().me.value;
	const { person, owner, ask } = props;
	const mine = person.id === me?.person;
	return (
		<>
			<Row
				picture="object-label"
				main={`${person.name}, ${person.initials}`}
				under={`${say(`book.people.role.${person.role}`)}: ${say(`book.people.may.${person.role}`)}`}
				right={
					owner && !mine ? (
						<Way onPress={() => ask({ of: "role", person })}>{say("book.people.role.change")}</Way>
					) : (
						mine && say("book.people.me")
					)
				}
			/>
			{person.devices.map((device) => (
				<Phone
					key={device.id}
					device={device}
					shut={owner || mine ? () => ask({ of: "shut", person, device }) : null}
				/>
			))}
		</>
	);
}

/** With no signal: whom the records themselves name. */
function FromRecords() {
	const desk = useDesk();
	const records = desk.records.value;
	return (
		<>
			{records.ofType("person").map((person) => (
				<Row
					key={person.id}
					picture="object-label"
					main={records.labelOf(person.id)}
					under={whoText(records, person.id)}
					right={person.id === desk.me.value?.person && say("book.people.me")}
					to={`/book/record/${person.id}`}
				/>
			))}
		</>
	);
}

function Open({ invitations, act }: { invitations: InvitationRow[]; act: Act }) {
	const desk = useDesk();
	if (!invitations.length) return null;
	return (
		<>
			<Group word={say("book.people.open")} />
			{invitations.map(({ id, role, person, expires }) => (
				<Row
					key={id}
					picture="object-received"
					main={person ? say("book.people.invite.mine") : say(`book.people.role.${role}`)}
					under={say("book.people.open.until", {
						when: dayShort(dayOf(expires), desk.today.value),
					})}
					right={
						<Way
							onPress={() => void act(say("book.people.withdrawn"), () => desk.server.withdraw(id))}
						>
							{say("book.people.withdraw")}
						</Way>
					}
				/>
			))}
		</>
	);
}

function AskRole({ person, act, done }: { person: PersonRow; act: Act; done: () => void }) {
	const desk = useDesk();
	const { name } = person;
	return (
		<>
			<Ask>{say("book.people.role.ask", { name })}</Ask>
			<Answers>
				{roles.map((role) => (
					<Answer
						key={role}
						picture="object-label"
						word={say(`book.people.role.${role}`)}
						then={say(`book.people.may.${role}`)}
						pressed={person.role === role}
						onPress={() =>
							void act(
								say("book.people.role.changed", { name, role: say(`book.people.role.${role}`) }),
								() => desk.server.setRole(person.id, role),
							)
						}
					/>
				))}
				<Answer
					picture="object-gone-to"
					word={say("book.people.remove")}
					then={say("book.people.remove.then")}
					onPress={() =>
						void act(say("book.people.removed", { name }), () =>
							desk.server.removePerson(person.id),
						)
					}
				/>
			</Answers>
			<Foot>
				<Way onPress={done}>{say("book.people.keep")}</Way>
			</Foot>
		</>
	);
}

function AskShut(props: { person: PersonRow; device: DeviceRow; act: Act; done: () => void }) {
	const desk = useDesk();
	const { person, device, act, done } = props;
	const { label } = device;
	return (
		<>
			<Ask>{say("book.people.shut.ask", { label })}</Ask>
			<Answers>
				<Answer
					picture="do-cross-out"
					word={say("book.people.shut.do")}
					onPress={() =>
						void act(say("book.people.shut.done", { label }), () =>
							desk.server.shutOut(person.id, device.id),
						)
					}
				/>
				<Answer picture="do-later" word={say("book.people.keep")} onPress={done} />
			</Answers>
			<Remark>{say("book.people.shut.why")}</Remark>
		</>
	);
}

function Doors(props: {
	joined: boolean;
	owner: boolean;
	act: Act;
	ask: (asking: Asking) => void;
}) {
	const desk = useDesk();
	const { joined, owner, act, ask } = props;
	if (!joined)
		return (
			<Answers>
				<Answer
					picture="object-received"
					word={say("book.people.join")}
					then={say("book.people.join.then")}
					to="/join"
				/>
			</Answers>
		);
	return (
		<>
			<Answers>
				<Answer
					picture="object-received"
					word={owner ? say("book.people.invite") : say("book.people.invite.mine")}
					then={owner ? say("book.people.invite.then") : say("book.people.invite.mine.then")}
					onPress={() => ask({ of: "invite" })}
				/>
			</Answers>
			<Foot>
				<Way onPress={() => void act(say("book.people.signed-out"), () => desk.server.signOut())}>
					{say("book.people.signout")}
				</Way>
			</Foot>
		</>
	);
}

function Sheet(props: {
	asking: Asking;
	ask: (asking: Asking) => void;
	act: Act;
	joined: boolean;
	owner: boolean;
	again: () => void;
}) {
	const { asking, ask, act } = props;
	const done = () => ask({ of: "nothing" });
	if (asking.of === "role") return <AskRole person={asking.person} act={act} done={done} />;
	if (asking.of === "shut")
		return <AskShut person={asking.person} device={asking.device} act={act} done={done} />;
	return <Doors joined={props.joined} owner={props.owner} act={act} ask={ask} />;
}

export default function People() {
	const server = useServerPeople();
	const { known, joined, owner, again } = server;
	const [asking, ask] = useState<Asking>({ of: "nothing" });
	const done = () => ask({ of: "nothing" });
	const { fault, act } = useServerDoing(again, done);
	const n = known?.people.length ?? 0;
	if (asking.of === "invite")
		return (
			<Invite
				owner={owner}
				done={() => {
					again();
					done();
				}}
			/>
		);
	const sheet = { asking, ask, act, joined, owner, again };
	return (
		<Page
			place="book"
			when={say("book.people.when")}
			title={n ? say("book.people.title", { n }) : say("book.people")}
			sheet={
				<>
					{fault !== null && <ErrorPart fault={faultOf(fault)} picture="store-server" />}
					<Sheet {...sheet} />
				</>
			}
		>
			{!joined && (
				<Row
					picture="store-phone"
					main={say("book.people.alone")}
					under={say("book.people.alone.under")}
				/>
			)}
			{known?.people.map((person) => (
				<Person key={person.id} person={person} owner={owner} ask={ask} />
			))}
			{known && <Open invitations={known.invitations} act={act} />}
			{joined && !known && server.fault === null && <Waiting words={say("book.people.asking")} />}
			{!known && (server.fault !== null || !joined) && (
				<>
					<FromRecords />
					{joined && <Node>{say("book.people.known")}</Node>}
				</>
			)}
		</Page>
	);
}
