/** Why a note is crossed out: the likeliest reasons as answers, or one's own words. */
import { useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import { save } from "../../parts/saved-strip";
import { say } from "../../parts/say";
import { Ask, Foot, Remark, Way } from "../../parts/sheet";
import { Write } from "../../parts/write";
import type { StoredEntry } from "../../records/desk";
import { tell } from "./telling";

const reasons = [
	["book.note.why.mis-seen", "ripeness-cant-tell"],
	["book.note.why.other-thing", "do-which"],
	["book.note.why.tapped", "do-cross-out"],
] as const;

export function WhyWrong({ stored, done }: { stored: StoredEntry; done: () => void }) {
	const desk = useDesk();
	const [written, write] = useState<string | null>(null);
	const cross = async (reason: string) => {
		const why = reason.trim();
		if (!why) return;
		if (await save(say("book.note.crossed-out"), () => desk.verbs.strike(stored.id, why))) done();
	};
	const leave = (
		<Foot>
			<Way onPress={done}>{say("book.note.why.keep")}</Way>
			{written === null && <Way onPress={() => write("")}>{say("book.note.why.write")}</Way>}
		</Foot>
	);
	return (
		<>
			<Ask>{say("book.note.why")}</Ask>
			<Remark>{tell(desk.records.value, stored.entry).text}</Remark>
			{written === null ? (
				<Answers>
					{reasons.map(([key, picture]) => (
						<Answer
							key={key}
							picture={picture}
							word={say(key)}
							onPress={() => void cross(say(key))}
						/>
					))}
				</Answers>
			) : (
				<>
					<Write
						label={say("book.note.why.label")}
						value={written}
						onChange={write}
						maxLength={500}
						first
					/>
					<Answers>
						<Answer
							picture="do-cross-out"
							word={say("book.note.why.save")}
							onPress={() => void cross(written)}
						/>
					</Answers>
				</>
			)}
			{leave}
		</>
	);
}
