import { Chart, ChartText } from "./chart";
import { ChartPictogram, type PictogramName } from "./pictogram";

export interface LineStop {
	id: string;
	picture: PictogramName;
	label: string;
	/** The day, in short. */
	when: string;
	/** Its year, where it is not that of the stop before (of today, for the first). */
	year?: string | undefined;
	/** The record that this picture is about. */
	here?: boolean | undefined;
}

/** Where it came from: from plant or received packet at the left to what grows now at the right, with a curl. */
export function LinePicture({
	stops,
	title,
	label,
}: {
	stops: readonly LineStop[];
	title: string;
	label: string;
}) {
	const step = stops.length > 1 ? Math.min(78, 232 / (stops.length - 1)) : 0;
	const at = (i: number) => 74 + i * step;
	const end = at(stops.length - 1) + 20;
	const curl = `H${end + 8}c14 0 17 -3 19 -9c3 -9 18 -8 18 1c0 7 -10 7 -10 .5`;
	return (
		<Chart height={stops.some((stop) => stop.year) ? 131 : 112} label={label}>
			<ChartText x={40} y={19} soft>
				{title}
			</ChartText>
			<path class="k" d={`M28 46${curl}`} />
			{stops.map((stop, i) => (
				<g key={stop.id}>
					<rect class="paper-fill" x={at(i) - 19} y={26} width={38} height={38} />
					<ChartPictogram name={stop.picture} x={at(i) - 17} y={28} size={34} />
					<ChartText x={at(i)} y={83} anchor="middle" bold={stop.here}>
						{stop.label}
					</ChartText>
					<ChartText x={at(i)} y={102} anchor="middle" soft>
						{stop.when}
					</ChartText>
					{stop.year && (
						<ChartText x={at(i)} y={121} anchor="middle" soft>
							{stop.year}
						</ChartText>
					)}
				</g>
			))}
		</Chart>
	);
}
