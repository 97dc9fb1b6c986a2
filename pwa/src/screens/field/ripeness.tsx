/** How ripe: six tiles in one scene, drawn for the sorus of the fern in hand. None is preset. */
import { Pictogram, type PictogramName } from "../../parts/pictogram";
import { say } from "../../parts/say";
import type { Sorus } from "../../reckoning/ferns";
import type { Ripeness } from "../../records/desk";

export const ripenesses: readonly Ripeness[] = [
	"none",
	"young",
	"turning",
	"ripe",
	"spent",
	"unseen",
];

const steps = { young: "young", turning: "nearly", ripe: "cut-now", spent: "mostly-gone" } as const;

/** The drawing of a ripeness; null for a sorus that is told in words alone. */
export function ripenessPicture(ripeness: Ripeness, sorus: Sorus | null): PictogramName | null {
	if (ripeness === "none") return "ripeness-no-sori";
	if (ripeness === "unseen") return "ripeness-cant-tell";
	if (sorus === "other") return null;
	return `ripeness-${sorus ?? "lid"}-${steps[ripeness]}`;
}

export const isRipeness = (value: unknown): value is Ripeness =>
	ripenesses.includes(value as Ripeness);

export function RipenessTiles(props: {
	sorus: Sorus | null;
	chosen: Ripeness | null;
	choose: (ripeness: Ripeness) => void;
}) {
	return (
		<div class="tiles tall">
			{ripenesses.map((ripeness) => {
				const picture = ripenessPicture(ripeness, props.sorus);
				return (
					<button
						key={ripeness}
						type="button"
						class="tile"
						aria-pressed={props.chosen === ripeness}
						onClick={() => props.choose(ripeness)}
					>
						{picture && <Pictogram name={picture} />}
						<span>{say(`field.ripeness.${ripeness}`)}</span>
					</button>
				);
			})}
		</div>
	);
}
