import type { ComponentChildren } from "preact";
import { type CameraProps, useCamera } from "./photo";
import { Pictogram, type PictogramName } from "./pictogram";
import { go } from "./route";

/** Tiles in rows of three, four across, or tall ones for ripeness. */
export function Tiles({
	shape = "three",
	children,
}: {
	shape?: "three" | "four" | "tall" | undefined;
	children: ComponentChildren;
}) {
	return <div class={shape === "three" ? "tiles" : `tiles ${shape}`}>{children}</div>;
}

export interface TileProps {
	word: ComponentChildren;
	picture: PictogramName;
	pressed?: boolean | undefined;
	disabled?: boolean | undefined;
	to?: string | undefined;
	onPress?: (() => void) | undefined;
}

/** Drawing over word. Chosen: heavy border and a folded corner. */
export function Tile({ word, picture, pressed, disabled, to, onPress }: TileProps) {
	return (
		<button
			type="button"
			class="tile"
			aria-pressed={pressed}
			disabled={disabled}
			onClick={to === undefined ? onPress : () => go(to)}
		>
			<Pictogram name={picture} />
			<span>{word}</span>
		</button>
	);
}

/** Small tiles in one row: how much was taken, wild or garden. A `null` child makes the gap between groups. */
export function Bits({ children }: { children: ComponentChildren }) {
	return <div class="bits">{children}</div>;
}

export const BitGap = () => <i />;

export function Bit({ word, picture, pressed, onPress }: TileProps) {
	return (
		<button type="button" class="bit" aria-pressed={pressed} onClick={onPress}>
			<Pictogram name={picture} />
			<span>{word}</span>
		</button>
	);
}

/** The camera as a tile. */
export function PhotoTile(props: CameraProps & { word: string }) {
	const camera = useCamera(props);
	return (
		<label class="tile camera">
			<Pictogram name="do-photo" />
			<span>{props.word}</span>
			<input aria-label={props.word} {...camera} />
		</label>
	);
}
