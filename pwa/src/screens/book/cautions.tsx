/** Every caution in one sentence; each also stands where the work is. */
import { Page } from "../../parts/page";
import type { PictogramName } from "../../parts/pictogram";
import { Node, Row } from "../../parts/row";
import { say } from "../../parts/say";
import { Foot, Way } from "../../parts/sheet";
import "./book.css";

const cautions = [
	["cut", "object-collection"],
	["rare", "grown-wild"],
	["dust", "object-dust"],
	["oven", "object-mix"],
	["pressure", "do-water"],
	["bleach", "do-mist"],
	["sphagnum", "trouble-moss"],
	["selling", "object-gone-to"],
	["alone", "go-field"],
	["bench", "go-bench"],
] as const satisfies readonly (readonly [string, PictogramName])[];

export default function Cautions() {
	return (
		<Page
			place="book"
			when={say("book.caution.when")}
			title={say("book.caution.title")}
			sheet={
				<Foot>
					<Way to="/book">{say("book.back")}</Way>
				</Foot>
			}
		>
			<Node>{say("book.caution.defer")}</Node>
			{cautions.map(([key, picture]) => (
				<Row
					key={key}
					picture={picture}
					main={<span class="note">{say(`book.caution.${key}`)}</span>}
				/>
			))}
		</Page>
	);
}
