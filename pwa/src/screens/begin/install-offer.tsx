import { useEffect, useState } from "preact/hooks";
import { useDesk } from "../../parts/desk";
import { Row } from "../../parts/row";
import { say } from "../../parts/say";
import { Way } from "../../parts/sheet";
import { install, installOffer } from "./install";

const key = "install-asked";

/**
 * The offer to keep the app on the home screen: after the first note of one's own, and not again once answered
 * (it stays in Book, this app). Nothing where the browser makes no offer.
 */
export function InstallOffer() {
	const desk = useDesk();
	const [answered, setAnswered] = useState(true);
	const { unsent, onServer } = desk.safety.value;
	useEffect(() => {
		desk.draft.load(key).then((left) => setAnswered(left !== null && left !== undefined));
	}, [desk]);
	// The claim itself writes a person: two entries. The first note of one's own comes after them.
	if (answered || !installOffer.value || unsent + onServer < 4) return null;
	const answer = (add: boolean) => {
		setAnswered(true);
		desk.draft.keep(key, desk.today.peek());
		if (add) void install();
	};
	return (
		<Row
			picture="store-home"
			main={say("install.row")}
			under={say("install.why")}
			right={
				<>
					<Way onPress={() => answer(true)}>{say("install.do")}</Way>
					<br />
					<Way onPress={() => answer(false)}>{say("install.later")}</Way>
				</>
			}
		/>
	);
}
