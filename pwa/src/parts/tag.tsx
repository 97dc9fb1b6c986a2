import { say } from "./say";

export type TagKind = "box" | "packet" | "pots" | "label";

/** Outline of the thing written on, by its width; where its text stands. */
const shapes: Record<
	TagKind,
	{ more: number; path: (w: number) => string; y: number; dx: number }
> = {
	box: {
		more: 4,
		path: (w) => `M1.5 2H${w - 1.5}V7.5H1.5ZM4 7.5L5.2 31H${w - 5.2}L${w - 4} 7.5`,
		y: 25,
		dx: 0,
	},
	packet: {
		more: 2,
		path: (w) => `M1.5 1.5H${w - 1.5}V31H1.5ZM1.5 1.5L7 8H${w - 7}L${w - 1.5} 1.5`,
		y: 26,
		dx: 0,
	},
	pots: {
		more: 8,
		path: (w) => `M1.5 1.5H${w - 1.5}V8H1.5ZM3.5 8L8 31H${w - 8}L${w - 3.5} 8`,
		y: 25.5,
		dx: 0,
	},
	label: { more: 12, path: (w) => `M8 2H${w - 1.5}V30H8L1.5 23.5V8.5Z`, y: 22.5, dx: 4 },
};

const words = {
	box: "parts.tag.box",
	packet: "parts.tag.packet",
	pots: "parts.tag.pots",
	label: "parts.tag.label",
} as const;

/** An identifier, drawn as the thing that it is written on. An unreadable one (?) is dotted. */
export function Tag({ kind, text }: { kind: TagKind; text: string }) {
	const shape = shapes[kind];
	const width = 15 + 11 * [...text].length + shape.more;
	const dotted = text === "?" ? { "stroke-dasharray": "2 3" } : {};
	return (
		<svg
			class="tag"
			viewBox={`0 0 ${width} 32`}
			width={width}
			fill="none"
			stroke="currentColor"
			role="img"
			aria-label={say(words[kind], { text })}
		>
			<path class="ns tag-line" d={shape.path(width)} {...dotted} />
			{kind === "label" && <circle class="ns tag-line" cx="7.5" cy="16" r="2.2" />}
			<text class="tag-text" x={width / 2 + shape.dx} y={shape.y} text-anchor="middle">
				{text}
			</text>
		</svg>
	);
}
