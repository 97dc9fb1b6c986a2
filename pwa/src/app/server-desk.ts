// What needs a signal: people, phones, invitations, calendar, notices, the demo's calendar.

import type { InvitationRow, PersonRow, ServerDesk } from "../records/desk";
import { faultOf } from "../records/verbs/people";
import { type Account, type Json, PhoneError, type PhoneOwner } from "../sync/ports";
import type { Push } from "./push";

type Method = "GET" | "POST" | "PUT" | "PATCH" | "DELETE";

interface SaidPerson extends Omit<PersonRow, "devices"> {
	devices: { id: string; label: string; last_seen: string | null; shut_out: string | null }[];
}

export interface ServerNeeds {
	account: Account;
	push: Push;
	owner(): PhoneOwner | null;
	/** Roles or the session may be different now. */
	changed(): Promise<void>;
}

export function serverDesk({ account, push, owner, changed }: ServerNeeds): ServerDesk {
	const ask = async <T>(method: Method, path: string, body?: Json): Promise<T> => {
		const answer = await account.call<T>(method, path, body);
		if (!answer.ok) throw faultOf(answer);
		return answer.value;
	};
	/** In the logbook that this phone has joined. */
	const here = <T>(method: Method, path: string, body?: Json): Promise<T> => {
		const logbook = owner()?.logbook;
		if (!logbook) throw new PhoneError("not-joined");
		return ask(method, `/logbooks/${logbook.id}${path}`, body);
	};
	return {
		people: async () => (await here<{ people: SaidPerson[] }>("GET", "/people")).people.map(asRow),
		setRole: async (person, role) => void (await here("PATCH", `/people/${person}`, { role })),
		removePerson: (person) => here("DELETE", `/people/${person}`),
		shutOut: (_person, device) => here("DELETE", `/devices/${device}`),
		invite: (input) => here("POST", "/invitations", { ...input }),
		invitations: async () =>
			(await here<{ invitations: InvitationRow[] }>("GET", "/invitations")).invitations,
		withdraw: (invitation) => here("DELETE", `/invitations/${invitation}`),
		calendarLink: async () => (await ask<{ url: string }>("POST", "/me/calendar")).url,
		revokeCalendarLink: () => ask("DELETE", "/me/calendar"),
		push: push.state,
		turnPushOn: () => push.turnOn(),
		turnPushOff: () => push.turnOff(),
		async signOut() {
			await ask("DELETE", "/session");
			await changed();
		},
		async moveClock(to) {
			await ask("POST", "/demo/clock", { to });
			await changed();
		},
	};
}

function asRow({ devices, ...person }: SaidPerson): PersonRow {
	return {
		...person,
		devices: devices.map(({ id, label, last_seen, shut_out }) => ({
			...{ id, label },
			lastSeen: last_seen,
			shutOut: shut_out !== null,
		})),
	};
}
