import { Chart, ChartText } from "./chart";
import { ChartPictogram, type PictogramName } from "./pictogram";

export interface BoxPart {
	letter: string;
	/** What grows in it. */
	picture: PictogramName;
	/** What troubles it. */
	trouble?: PictogramName | undefined;
}

/** Several ferns under one lid: the box in section, a dashed wall between its parts, in each its letter and growth. */
export function PartedBox({ parts, label }: { parts: readonly BoxPart[]; label: string }) {
	const width = 278 / parts.length;
	const middle = (i: number) => 78 + width * (i + 0.5);
	return (
		<Chart height={162} label={label}>
			<path class="k sheet" d="M56 6H378V26H56Z" />
			<path class="k sheet" d="M72 26L84 156H350L362 26" />
			<path class="k" d="M77 98H357" />
			{parts.map((part, i) => (
				<g key={part.letter}>
					{i > 0 && <path class="k" stroke-dasharray="5 5" d={`M${78 + width * i} 26V156`} />}
					<ChartText x={middle(i)} y={54} anchor="middle" size={26} bold italic>
						{part.letter}
					</ChartText>
					<ChartPictogram name={part.picture} x={middle(i) - 22} y={63} size={44} />
					{part.trouble && (
						<ChartPictogram name={part.trouble} x={middle(i) + 20} y={66} size={36} />
					)}
					<path
						class="kh"
						stroke-dasharray="0 19"
						d={`M${middle(i) - width * 0.36} 120h${width * 0.72}M${middle(i) - width * 0.3} 138h${width * 0.6}`}
					/>
				</g>
			))}
		</Chart>
	);
}
