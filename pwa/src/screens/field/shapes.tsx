/** What shape the sori are, where the tables do not know the fern: only the drawings follow it. */
import { Page } from "../../parts/page";
import { Pictogram } from "../../parts/pictogram";
import { back } from "../../parts/route";
import { Small } from "../../parts/row";
import { say } from "../../parts/say";
import type { Sorus } from "../../reckoning/ferns";

const shapes = ["lid", "naked", "line", "margin", "bead", "cup", "felt", "cone"] as const;

export function ShapeTiles(props: { choose: (sorus: Sorus) => void; otherwise: string }) {
	return (
		<Page
			place="field"
			when={say("field.when")}
			title={say("field.shape")}
			sheet={
				<div class="tiles">
					{shapes.map((shape) => (
						<button
							key={shape}
							type="button"
							class="tile"
							onClick={() => {
								props.choose(shape);
								back(props.otherwise);
							}}
						>
							<Pictogram name={`ripeness-${shape}-cut-now`} />
							<span>{say(`field.shape.${shape}`)}</span>
						</button>
					))}
				</div>
			}
		>
			<Small>{say("field.shape.why")}</Small>
		</Page>
	);
}
