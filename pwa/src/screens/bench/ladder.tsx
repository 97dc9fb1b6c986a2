import { pictureOf } from "../../parts/answering";
import { Pictogram } from "../../parts/pictogram";
import { say } from "../../parts/say";
import { growths } from "../../parts/standing";
import type { Growth } from "../../records/desk";

/** The stages with how many boxes are at each; a tap shows only those, the next tap all. */
export function Ladder(props: {
	counts: ReadonlyMap<Growth, number>;
	only: Growth | null;
	choose: (growth: Growth | null) => void;
}) {
	return (
		<div class="ladder">
			{growths
				.filter((growth) => props.counts.get(growth))
				.map((growth) => {
					const n = props.counts.get(growth) ?? 0;
					const chosen = props.only === growth;
					return (
						<button
							key={growth}
							type="button"
							class="st"
							aria-pressed={chosen}
							aria-label={say("bench.ladder", { n, stage: say(`parts.growth.${growth}`) })}
							onClick={() => props.choose(chosen ? null : growth)}
						>
							<Pictogram name={pictureOf(growth) ?? "object-box"} />
							<b>{n}</b>
						</button>
					);
				})}
		</div>
	);
}
