/** The app itself: which version, how it looks, whether the phone keeps its store. */
import { useState } from "preact/hooks";
import { version } from "../../../package.json";
import { Answer, Answers } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import { Page } from "../../parts/page";
import { Group, Node, Row, Say } from "../../parts/row";
import { say } from "../../parts/say";
import { Foot, Remark, Way } from "../../parts/sheet";
import { chooseTheme, chosenTheme, type Theme } from "../../parts/theme";
import { Bit } from "../../parts/tiles";
import { inSafariPage, install, installOffer } from "../begin/install";
import "./book.css";

const looks = [
	[null, "store-phone"],
	["light", "go-field"],
	["dark", "object-lens"],
	["sun", "go-ahead"],
] as const satisfies readonly (readonly [Theme | null, string])[];

function Looks() {
	return (
		<>
			<Group word={say("book.about.look")} />
			<div class="bits four-bits padded">
				{looks.map(([look, picture]) => (
					<Bit
						key={look ?? "phone"}
						picture={picture}
						word={say(look ? `parts.theme.${look}` : "book.about.look.phone")}
						pressed={chosenTheme.value === look}
						onPress={() => chooseTheme(look)}
					/>
				))}
			</div>
		</>
	);
}

function Doing() {
	const desk = useDesk();
	const { updateReady, otherTabNewer } = desk.safety.value;
	const [dirty, refused] = useState(false);
	const update = async () => {
		if (!(await desk.update())) refused(true);
	};
	return (
		<>
			<Answers>
				{(updateReady || otherTabNewer) && (
					<Answer
						picture="do-yes"
						word={say("book.about.update.do")}
						then={say("book.about.update.then")}
						onPress={() => void update()}
					/>
				)}
				{installOffer.value && (
					<Answer
						picture="store-home"
						word={say("book.about.install")}
						onPress={() => void install()}
					/>
				)}
			</Answers>
			{dirty && <Remark>{say("book.about.update.dirty")}</Remark>}
			<Foot>
				<Way to="/book">{say("book.back")}</Way>
			</Foot>
		</>
	);
}

function Holding() {
	const desk = useDesk();
	const { persisted } = desk.safety.value;
	const n = desk.records.value.size;
	const name = desk.me.value?.logbook?.name;
	return (
		<Row
			picture="store-phone"
			main={name ? say("book.about.records", { n, name }) : say("book.about.records.alone", { n })}
			under={say(persisted ? "book.about.persisted" : "book.about.not-persisted")}
		/>
	);
}

export default function About() {
	const { updateReady } = useDesk().safety.value;
	return (
		<Page
			place="book"
			when={say("book.about.when")}
			title={say("book.about.title")}
			sheet={<Doing />}
		>
			<Say>{say("book.about.what")}</Say>
			<Holding />
			<Row
				picture="do-yes"
				main={say("book.about.version", { version: version })}
				under={say(updateReady ? "book.about.update" : "book.about.current")}
			/>
			{inSafariPage() && <Row picture="store-home" under={say("install.ios")} />}
			<Looks />
			<Node>{say("book.about.open")}</Node>
		</Page>
	);
}
