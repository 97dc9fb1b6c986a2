import { useEffect, useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import { type Draft, useDraft } from "../../parts/draft";
import { Waiting } from "../../parts/empty";
import { ErrorPart, faultOf } from "../../parts/error";
import { Page } from "../../parts/page";
import { go } from "../../parts/route";
import { Node, Row, Small } from "../../parts/row";
import { showSaved } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Foot, Remark, Way } from "../../parts/sheet";
import { Write } from "../../parts/write";
import type { JoinInput } from "../../records/desk";
import { SafariWarning } from "./begin";
import { invitationCode } from "./code";
import { asInitials, initialsOf } from "./initials";
import { inSafariPage } from "./install";

interface Joining {
	written: string;
	name: string;
	initials: string | null;
}
const empty = (): Joining => ({ written: "", name: "", initials: null });

/** The code of the link that was opened; it leaves the address, so that it stays in no history. */
function takeLinkCode(): string | null {
	const code = invitationCode(location.hash);
	if (location.hash) go("/join", { replace: true });
	return code;
}

/** What to join with; null while there is no code, or no initials for a new name. */
function joinInput(form: Joining, claimed: boolean): JoinInput | null {
	const code = invitationCode(form.written);
	if (!code) return null;
	if (claimed) return { code, bringAll: true };
	const name = form.name.trim();
	if (!name) return { code };
	const initials = asInitials(form.initials ?? initialsOf(name));
	return initials ? { code, name, initials } : null;
}

function useJoin() {
	const desk = useDesk();
	const draft = useDraft("join", empty);
	const [work, setWork] = useState<{ fault?: unknown; state: "asking" | "working" }>({
		state: "asking",
	});
	const claimed = desk.me.value !== null;
	const form = draft.value ?? empty();
	// A link's code goes in once the form has come back, and wins over what was left in it.
	const ready = draft.value !== null;
	useEffect(() => {
		const code = ready ? takeLinkCode() : null;
		if (code) draft.set({ written: code });
	}, [ready]);
	const join = async () => {
		const input = joinInput(form, claimed);
		if (!input) return setWork({ state: "asking", fault: { code: "invitation-unreadable" } });
		setWork({ state: "working" });
		try {
			await desk.verbs.join(input);
			draft.drop();
			const name = desk.me.peek()?.logbook?.name ?? "";
			showSaved({ words: say("join.joined", { name }), crossOut: null });
			go("/", { replace: true });
		} catch (fault) {
			setWork({ state: "asking", fault });
		}
	};
	return { form, draft, claimed, work, join };
}

function Form({
	form,
	draft,
	claimed,
}: {
	form: Joining;
	draft: Draft<Joining>;
	claimed: boolean;
}) {
	return (
		<>
			<Write
				label={say("join.code")}
				hint={say("join.code.hint")}
				value={form.written}
				onChange={(written) => draft.set({ written })}
				capitals
			/>
			{!claimed && (
				<>
					<Write
						label={say("begin.name")}
						hint={say("join.name.hint")}
						value={form.name}
						onChange={(name) => draft.set({ name })}
						autoComplete="name"
					/>
					{form.name.trim() !== "" && (
						<Write
							label={say("begin.initials")}
							value={form.initials ?? initialsOf(form.name)}
							onChange={(initials) => draft.set({ initials })}
							capitals
							maxLength={4}
						/>
					)}
				</>
			)}
		</>
	);
}

/** What this phone holds already, and what becomes of it. */
function Brings() {
	const me = useDesk().me.value;
	if (!me) return null;
	if (me.joined)
		return (
			<Row
				picture="store-server"
				main={say("join.already")}
				under={say("join.already.why", { name: me.logbook?.name ?? "" })}
			/>
		);
	return <Row picture="store-phone" main={say("join.bring")} under={say("join.bring.why")} />;
}

/** Joining is an invitation of a server: a link that was opened here, or a code typed in. */
export default function Join() {
	const { form, draft, claimed, work, join } = useJoin();
	const code = invitationCode(form.written);
	const unreadable = form.written.trim().length >= 8 && !code;
	return (
		<Page
			place={claimed ? "book" : undefined}
			when={say("join.when")}
			title={code ? say("join.title.code", { code }) : say("join.title")}
			sheet={
				<>
					{work.fault !== undefined && (
						<ErrorPart fault={faultOf(work.fault)} picture="store-server" />
					)}
					{unreadable && <Remark>{say("join.code.wrong")}</Remark>}
					<Answers>
						<Answer
							main
							picture="do-yes"
							word={say(claimed ? "join.bring-all" : "join.go")}
							then={claimed ? undefined : say("join.go.then")}
							disabled={work.state === "working"}
							onPress={() => void join()}
						/>
					</Answers>
					<Foot>
						<Way to={claimed ? "/book/people" : "/"}>{say("begin.back")}</Way>
					</Foot>
				</>
			}
		>
			{work.state === "working" ? (
				<Waiting words={say("join.working")} under={say("join.working.why")} />
			) : (
				<>
					{!claimed && inSafariPage() && <SafariWarning />}
					<Brings />
					<Form form={form} draft={draft} claimed={claimed} />
					<Small>{say("join.why")}</Small>
					<Node>{say("join.signal")}</Node>
				</>
			)}
		</Page>
	);
}
