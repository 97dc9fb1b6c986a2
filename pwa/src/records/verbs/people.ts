// Who one is on this phone, joining a server's logbook, and what a person decides for themselves.

import {
	type Account,
	type Answer,
	type Id,
	type JoinAnswer,
	PhoneError,
	type PhoneOwner,
} from "../../sync/ports";
import type { JoinInput, PersonInput, Saved, Verbs } from "../verb-inputs";
import type { Draft, Writer } from "../writer";

export interface PeopleNeeds {
	writer: Writer;
	account: Account;
	/** What this phone is called until somebody says otherwise. */
	deviceLabel(): string;
	/** Where this app comes from: links of other servers are not for it. */
	origin(): string;
	/** This phone has another person or logbook now. */
	ownerChanged(): Promise<void>;
	/** An exchange, now; it ends without a word when there is no signal. */
	exchange(): Promise<void>;
}

export type PeopleVerbs = Pick<Verbs, "claim" | "join" | "setPerson" | "setKeeper">;

export function peopleVerbs(needs: PeopleNeeds): PeopleVerbs {
	const { writer } = needs;
	return {
		claim: (input) =>
			writer.once(["claim"], async () => {
				const { uuid } = writer.needs.ids;
				const { name, initials, deviceLabel = needs.deviceLabel() } = input;
				const known = writer.needs.owner();
				const owner: PhoneOwner = {
					...{ person: uuid(), device: uuid(), logbook: null, role: null },
					...known,
					...{ name, initials, deviceLabel },
				};
				const saved = await writer.write({
					owner,
					made: { person: owner.person },
					drafts: () =>
						aboutPerson(owner.person, { name, initials, zone: writer.needs.clock.zone() }),
				});
				await needs.ownerChanged();
				return saved;
			}),
		join: (input) => join(needs, input),
		setPerson: (data) => setPerson(needs, data),
		setKeeper: (record, keeper) =>
			writer.once(["setKeeper", record, keeper], () => {
				const type = writer.needs.index.folds.get(record)?.record.type;
				if (type !== "box" && type !== "shelf") throw new PhoneError("no-such-record");
				const kept = keeper.map((one) => ({ ...one }));
				return writer.write({
					drafts: () => [{ kind: `${type}.described`, about: record, data: { keeper: kept } }],
				});
			}),
	};
}

function aboutPerson(person: Id, { name, ...data }: PersonInput): Draft[] {
	const { quiet, away, ...rest } = data;
	const described = {
		...rest,
		...(quiet ? { quiet: { ...quiet } } : {}),
		...(away ? { away: away.map((span) => ({ ...span })) } : {}),
	};
	return [
		...(Object.keys(described).length
			? [{ kind: "person.described", about: person, data: described }]
			: []),
		...(name ? [{ kind: "record.described", about: person, data: { name } }] : []),
	];
}

async function setPerson(needs: PeopleNeeds, data: PersonInput): Promise<Saved> {
	const { writer } = needs;
	const owner = writer.needs.owner();
	if (!owner) throw new PhoneError("unclaimed");
	const { name = owner.name, initials = owner.initials } = data;
	const saved = await writer.once(["setPerson", data], () =>
		writer.write({
			owner: { ...owner, name, initials },
			drafts: () => aboutPerson(owner.person, data),
		}),
	);
	await needs.ownerChanged();
	return saved;
}

/** The code as it is typed, or the part of a link after `#`. */
export function invitationOf({ code, link }: JoinInput, origin: string): string {
	if (code?.trim()) return code.trim();
	const hash = link?.indexOf("#") ?? -1;
	if (!link || hash < 0) throw new PhoneError("no-such-invitation");
	const address = link.slice(0, hash);
	if (address.includes("://") && !address.startsWith(`${origin}/`))
		throw new PhoneError("other-server");
	return decodeURIComponent(link.slice(hash + 1));
}

/** Joins, then everything that is on this phone already is offered to the logbook joined. */
async function join(needs: PeopleNeeds, input: JoinInput): Promise<void> {
	const owner = needs.writer.needs.owner();
	if (owner?.logbook && !input.bringAll) {
		const again = await sameLogbookAgain(needs, owner, input);
		if (!again) throw new PhoneError("already-joined");
		return;
	}
	const answer = await ask(needs, owner, input);
	if (!answer.ok) throw faultOf(answer);
	await adopt(needs, owner, answer.value);
}

/** A phone that was signed out comes back into its own logbook with a new invitation. */
async function sameLogbookAgain(
	needs: PeopleNeeds,
	owner: PhoneOwner,
	input: JoinInput,
): Promise<boolean> {
	const me = await needs.account.me();
	if (me.ok || me.status !== 401) return false;
	const answer = await ask(needs, owner, input);
	if (!answer.ok) throw faultOf(answer);
	await adopt(needs, owner, answer.value);
	return true;
}

async function ask(
	{ writer, account, deviceLabel, origin }: PeopleNeeds,
	owner: PhoneOwner | null,
	input: JoinInput,
): Promise<Answer<JoinAnswer>> {
	const { uuid } = writer.needs.ids;
	const invitation = invitationOf(input, origin());
	// The same ids at every try: an answer that was lost can then be asked for again.
	const ids = owner ?? (await writer.needs.store.applicant({ person: uuid(), device: uuid() }));
	const name = input.name ?? owner?.name ?? "";
	const initials = input.initials ?? owner?.initials ?? "";
	const label = input.deviceLabel ?? owner?.deviceLabel ?? deviceLabel();
	const person = name && initials ? { id: ids.person, name, initials } : null;
	return account.join({ invitation, device: { id: ids.device, label }, person });
}

export async function roleIn(account: Account, logbook: Id): Promise<PhoneOwner["role"]> {
	const me = await account.me();
	return me.ok ? (me.value.logbooks.find(({ id }) => id === logbook)?.role ?? null) : null;
}

async function adopt(
	needs: PeopleNeeds,
	before: PhoneOwner | null,
	{ person, device, logbook }: JoinAnswer,
): Promise<void> {
	const { store, index } = needs.writer.needs;
	const owner: PhoneOwner = {
		person: person.id,
		name: person.name,
		initials: person.initials,
		device: device.id,
		deviceLabel: device.label,
		logbook,
		role: null,
	};
	// First of all: the server takes this answer as heard once the session is used.
	if (before?.logbook && before.logbook.id !== logbook.id) await store.offerAll(owner);
	else await store.setOwner(owner);
	const role = await roleIn(needs.account, logbook.id);
	if (role) await store.setOwner({ ...owner, role });
	await needs.ownerChanged();
	// Now the phone knows the server's day, and whether its person is written down already.
	await needs.exchange();
	const drafts = [
		...(index.folds.get(person.id) || before?.person === person.id ? [] : newcomer(needs, owner)),
		...(before && before.person !== person.id ? [sameAs(before.person, person.id)] : []),
	];
	if (drafts.length) await needs.writer.write({ drafts: () => drafts });
}

function newcomer({ writer }: PeopleNeeds, { person, name, initials }: PhoneOwner): Draft[] {
	return aboutPerson(person, { name, initials, zone: writer.needs.clock.zone() });
}

/** Who began alone under another id is the same person. */
function sameAs(before: Id, now: Id): Draft {
	return { kind: "record.described", about: before, data: { same_as: now } };
}

/** What a server or the lack of one said, as an error for the screen. */
export function faultOf(answer: {
	status: number | null;
	code: string | null;
	body: unknown;
}): PhoneError {
	if (answer.status === null) return new PhoneError("no-signal");
	const said = (answer.body ?? {}) as { message?: string; where?: string; fix?: string };
	return new PhoneError(answer.code ?? "broken", {
		...(said.message ? { message: said.message } : {}),
		where: said.where ?? null,
		fix: said.fix ?? null,
	});
}
