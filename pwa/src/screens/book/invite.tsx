/** An invitation: what the invited may do, then a code and a link to pass on. Good once. */
import { useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { dayOf, dayShort, timeOf } from "../../parts/dates";
import { useDesk } from "../../parts/desk";
import { ErrorPart, faultOf } from "../../parts/error";
import { Page } from "../../parts/page";
import type { PictogramName } from "../../parts/pictogram";
import { Node, Say } from "../../parts/row";
import { showFault, showSaved } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Ask, Foot, Way } from "../../parts/sheet";
import type { Invitation, Role } from "../../records/desk";
import { canShareWords, copyWords, shareWords } from "./hand-over";

const offered = [
	["grower", "object-plant"],
	["watcher", "object-shelf"],
	["onlooker", "object-lens"],
	["owner", "store-home"],
] as const satisfies readonly (readonly [Role, PictogramName])[];

interface Given {
	invitation: Invitation;
	/** null: a further phone of the one who asks. */
	role: Role | null;
}

function Passing({ given, done }: { given: Given; done: () => void }) {
	const { url, code } = given.invitation;
	const pass = () => shareWords(say("book.people.invited.text", { url, code })).catch(showFault);
	const copy = () =>
		copyWords(url).then(
			() => showSaved({ words: say("book.people.invited.copied"), crossOut: null }),
			showFault,
		);
	return (
		<Answers>
			{canShareWords() && (
				<Answer
					picture="object-gone-to"
					word={say("book.people.invited.share")}
					then={say("book.people.invited.share.then")}
					onPress={() => void pass()}
				/>
			)}
			<Answer
				picture="object-label"
				word={say("book.people.invited.copy")}
				onPress={() => void copy()}
			/>
			<Answer picture="do-yes" word={say("book.people.invited.done")} onPress={done} />
		</Answers>
	);
}

function Invited({ given, done }: { given: Given; done: () => void }) {
	const today = useDesk().today.value;
	const { code, url, expires } = given.invitation;
	const when = `${dayShort(dayOf(expires), today)} ${timeOf(expires)}`.trim();
	return (
		<Page
			place="book"
			when={
				given.role
					? say("book.people.invited.when", { role: say(`book.people.role.${given.role}`) })
					: say("book.people.invited.phone")
			}
			title={say("book.people.invited.title")}
			sheet={<Passing given={given} done={done} />}
		>
			<div class="number code">
				<b>{code}</b>
			</div>
			<Say>
				<span class="address">{url}</span>
			</Say>
			<Node>{say("book.people.invited.type")}</Node>
			<Node>{say("book.people.invited.once", { when })}</Node>
		</Page>
	);
}

export function Invite({ owner, done }: { owner: boolean; done: () => void }) {
	const desk = useDesk();
	const [given, give] = useState<Given | null>(null);
	const [fault, fail] = useState<unknown>(null);
	const me = desk.me.value;
	const invite = async (role: Role, mine: boolean) => {
		try {
			const input = mine && me ? { role, person: me.person } : { role };
			give({ invitation: await desk.server.invite(input), role: mine ? null : role });
		} catch (thrown) {
			fail(thrown);
		}
	};
	if (given) return <Invited given={given} done={done} />;
	return (
		<Page
			place="book"
			when={say("book.people.when")}
			title={say("book.people.invite.ask")}
			sheet={
				<>
					{fault !== null && <ErrorPart fault={faultOf(fault)} picture="store-server" />}
					<Ask>{say("book.people.invite.ask")}</Ask>
					<Answers>
						{owner &&
							offered.map(([role, picture]) => (
								<Answer
									key={role}
									picture={picture}
									word={say(`book.people.role.${role}`)}
									then={say(`book.people.may.${role}`)}
									onPress={() => void invite(role, false)}
								/>
							))}
						<Answer
							picture="store-phone"
							word={say("book.people.invite.mine")}
							then={say("book.people.invite.mine.then")}
							onPress={() => void invite(me?.role ?? "onlooker", true)}
						/>
					</Answers>
					<Foot>
						<Way onPress={done}>{say("book.back")}</Way>
					</Foot>
				</>
			}
		/>
	);
}
