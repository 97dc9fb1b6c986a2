/** What is to be known beside the boxes: where notes are, who is signed in, what wants settling. Silent when all is well. */
import { useDesk } from "../../parts/desk";
import { ErrorPart } from "../../parts/error";
import { ageText } from "../../parts/only-here";
import { Row } from "../../parts/row";
import { say } from "../../parts/say";

const day = 86_400_000;

function Signed() {
	const desk = useDesk();
	const { link } = desk.safety.value;
	if (link === "signed-out")
		return (
			<Row
				picture="store-phone"
				alarm
				main={say("today.notice.signed-out")}
				under={say("today.notice.signed-out-do")}
				to="/join"
			/>
		);
	if (link === "shut-out")
		return (
			<Row
				picture="store-phone"
				alarm
				main={say("today.notice.shut-out")}
				under={say("today.notice.shut-out-do")}
				to="/book/only-here"
			/>
		);
	return null;
}

function Waiting() {
	const { unsent, oldestUnsentMs } = useDesk().safety.value;
	if (!unsent || (oldestUnsentMs ?? 0) < day) return null;
	return (
		<Row
			picture="store-phone"
			main={say("today.notice.only-here", { n: unsent })}
			under={say("today.notice.only-here-since", { age: ageText(oldestUnsentMs ?? 0) })}
			to="/book/only-here"
		/>
	);
}

function Version() {
	const desk = useDesk();
	const { updateReady, otherTabNewer } = desk.safety.value;
	if (!updateReady && !otherTabNewer) return null;
	return (
		<Row
			picture="do-yes"
			main={say("today.notice.update")}
			under={say("today.notice.update-do")}
			onPress={() => void desk.update()}
		/>
	);
}

function Settling() {
	const desk = useDesk();
	const records = desk.records.value;
	const { held, refused } = desk.safety.value;
	const questions = records.questions().length + records.crossQuestions().length;
	const fixing = held + refused;
	return (
		<>
			{fixing > 0 && (
				<Row
					picture="do-fix"
					main={say("today.notice.fixing", { n: fixing })}
					under={say("today.notice.fixing-under")}
					to="/book/fixing"
				/>
			)}
			{questions > 0 && (
				<Row
					picture="do-two-names"
					main={say("today.notice.questions", { n: questions })}
					under={say("today.notice.questions-under")}
					to="/book/questions"
				/>
			)}
		</>
	);
}

export function Notices() {
	return (
		<>
			{useDesk().safety.value.storageFull && <ErrorPart fault={{ code: "storage-full" }} />}
			<Signed />
			<Waiting />
			<Settling />
			<Version />
		</>
	);
}
