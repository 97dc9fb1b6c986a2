import type { ComponentChildren } from "preact";
import { Chart, ChartText } from "./chart";
import { boxPath, LiddedBox, type LiddedBoxProps } from "./lidded-box";

export interface DrawnBox {
	/** Its letter, where it stands out: black, and tied to its row by the letter. */
	letter?: string | undefined;
}

const perBoard = 20;
const boardHeight = 54;

/** The shelf as it stands: twenty small boxes on each board, those that want an answer black and lettered. */
export function ShelfPicture({
	boxes,
	label,
	name,
}: {
	boxes: DrawnBox[];
	label: string;
	/** Its name under the board, where there is more than one shelf. */
	name?: string | undefined;
}) {
	const boards = Math.max(1, Math.ceil(boxes.length / perBoard));
	const lettered = (board: number) =>
		boxes.slice(board * perBoard, (board + 1) * perBoard).some((box) => box.letter);
	// A board without letters needs no room for them.
	const tops: number[] = [];
	let y = 0;
	for (let board = 0; board < boards; board++) {
		y += lettered(board) ? boardHeight : 28;
		tops.push(y);
	}
	return (
		<Chart height={y + (name ? 26 : 6)} label={label}>
			{tops.map((floor, board) => (
				<g key={floor}>
					<path class="k board" d={`M56 ${floor}H378`} />
					{boxes.slice(board * perBoard, (board + 1) * perBoard).map((box, k) => {
						const x = 60 + k * 15.7;
						return box.letter ? (
							<g key={x}>
								<path class="k ink" d={boxPath(x - 1.5, floor - 23, 16, 22)} />
								<ChartText x={x + 6.5} y={floor - 30} anchor="middle" size={21} bold italic>
									{box.letter}
								</ChartText>
							</g>
						) : (
							<path key={x} class="k paper" d={boxPath(x, floor - 17, 12.6, 16)} />
						);
					})}
				</g>
			))}
			{name && (
				<ChartText x={60} y={y + 19} soft>
					{name}
				</ChartText>
			)}
		</Chart>
	);
}

/** A shelf to tap: boxes in the order in which they stand, each on its own piece of board. */
export function TapShelf({ children }: { children: ComponentChildren }) {
	return <div class="shelf">{children}</div>;
}

export function TapBox(
	props: LiddedBoxProps & {
		label: string;
		pressed?: boolean | undefined;
		onPress: () => void;
	},
) {
	const { label, pressed, onPress, ...box } = props;
	return (
		<button
			type="button"
			class="bx"
			aria-label={label}
			aria-pressed={pressed ?? false}
			onClick={onPress}
		>
			<LiddedBox {...box} />
		</button>
	);
}
