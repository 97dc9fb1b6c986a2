import { useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import { useDraft } from "../../parts/draft";
import { ErrorPart, faultOf } from "../../parts/error";
import { BigNumber } from "../../parts/number";
import { Page } from "../../parts/page";
import { go, route } from "../../parts/route";
import { Node, Row, Small } from "../../parts/row";
import { showSaved } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Ask, Foot, Remark, Way } from "../../parts/sheet";
import { Write } from "../../parts/write";
import { asInitials, initialsOf } from "./initials";
import { inSafariPage } from "./install";

/** An iPhone's Safari page: what is written here does not move into the app. Said before the first note. */
export function SafariWarning() {
	return <Row alarm picture="store-phone" main={say("begin.ios")} under={say("begin.ios.why")} />;
}

function TwoWays() {
	const safari = inSafariPage();
	return (
		<Page
			when={say("begin.when")}
			title={say("begin.title")}
			sheet={
				<>
					<Ask>{say("begin.ask")}</Ask>
					<Answers>
						<Answer
							picture="object-label"
							word={say("begin.here")}
							then={say("begin.here.then")}
							to="/?begin=here"
						/>
						<Answer
							picture="object-received"
							word={say("begin.invited")}
							then={say("begin.invited.then")}
							to="/join"
						/>
					</Answers>
				</>
			}
		>
			{safari && <SafariWarning />}
			<Row picture="store-phone" main={say("begin.kept-here")} under={say("begin.kept-here.why")} />
			<Row
				picture="store-server"
				main={say("begin.kept-server")}
				under={say("begin.kept-server.why")}
			/>
			<Node>{say("begin.kept-nowhere")}</Node>
		</Page>
	);
}

interface Who {
	name: string;
	/** null: as the name suggests them. */
	initials: string | null;
}
const nobody = (): Who => ({ name: "", initials: null });

function useClaim() {
	const desk = useDesk();
	const draft = useDraft("begin", nobody);
	const [fault, setFault] = useState<unknown>(null);
	const [asked, setAsked] = useState<"begin.need-name" | "begin.need-initials" | null>(null);
	const who = draft.value ?? nobody();
	const initials = who.initials ?? initialsOf(who.name);
	const claim = async () => {
		const good = asInitials(initials);
		const name = who.name.trim() || good;
		if (!good || !name) return setAsked(name ? "begin.need-initials" : "begin.need-name");
		try {
			await desk.verbs.claim({ name, initials: good });
			draft.drop();
			showSaved({ words: say("begin.began"), crossOut: null });
			go("/", { replace: true });
		} catch (thrown) {
			setFault(thrown);
		}
	};
	return { who, initials, set: draft.set, claim, fault, asked };
}

function WhoIsWriting() {
	const { who, initials, set, claim, fault, asked } = useClaim();
	return (
		<Page
			when={say("begin.who.when")}
			title={say("begin.who.title")}
			sheet={
				<>
					{fault !== null && <ErrorPart fault={faultOf(fault)} />}
					{asked && <Remark>{say(asked)}</Remark>}
					<Answers>
						<Answer main picture="do-yes" word={say("begin.start")} onPress={() => void claim()} />
					</Answers>
					<Foot>
						<Way to="/">{say("begin.back")}</Way>
					</Foot>
				</>
			}
		>
			<Write
				label={say("begin.name")}
				value={who.name}
				onChange={(name) => set({ name })}
				autoComplete="name"
				first
			/>
			<Write
				label={say("begin.initials")}
				hint={say("begin.initials.hint")}
				value={initials}
				onChange={(written) => set({ initials: written })}
				capitals
				maxLength={4}
			/>
			{asInitials(initials) && (
				<BigNumber number={`${asInitials(initials)}\u00a01`} aside={say("begin.who.number")} />
			)}
			<Small>{say("begin.who.why")}</Small>
		</Page>
	);
}

/** A phone on which nobody has said who they are. */
export default function Begin() {
	return route.value.query.get("begin") === "here" ? <WhoIsWriting /> : <TwoWays />;
}
