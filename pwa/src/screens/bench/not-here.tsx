import { Answer, Answers } from "../../parts/answer";
import { Empty } from "../../parts/empty";
import { Page } from "../../parts/page";
import { say } from "../../parts/say";

/** An address of something that this phone does not know (yet): it may come with the next exchange. */
export function NotHere() {
	return (
		<Page
			place="bench"
			title={say("bench.not-here")}
			sheet={
				<Answers>
					<Answer word={say("bench.not-here.bench")} picture="go-bench" to="/bench" />
				</Answers>
			}
		>
			<Empty picture="do-which" words={say("bench.not-here.words")} />
		</Page>
	);
}
