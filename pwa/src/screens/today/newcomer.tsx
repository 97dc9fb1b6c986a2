import { Answer, Answers } from "../../parts/answer";
import { say } from "../../parts/say";
import { Ask } from "../../parts/sheet";

/** Three ways to begin: in the field, with a packet, or with what stands on a shelf today. */
export function Beginnings() {
	return (
		<>
			<Ask>{say("today.begin.ask")}</Ask>
			<Answers>
				<Answer
					word={say("today.begin.shelf")}
					picture="object-shelf"
					then={say("today.begin.shelf-then")}
					to="/bench/here"
				/>
				<Answer
					word={say("today.begin.packet")}
					picture="object-received"
					then={say("today.begin.packet-then")}
					to="/field/received"
				/>
				<Answer
					word={say("today.begin.field")}
					picture="object-plant"
					then={say("today.begin.field-then")}
					to="/field"
				/>
			</Answers>
		</>
	);
}
