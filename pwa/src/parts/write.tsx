/** A line to write on: its word above, what was written large, a hint below. */
import { useId } from "preact/hooks";
import "./styles/write.css";

const modes = { text: "text", search: "search", number: "numeric" } as const;

export interface WriteProps {
	label: string;
	value: string;
	onChange: (value: string) => void;
	hint?: string | undefined;
	kind?: "text" | "search" | "number" | "time" | "date" | undefined;
	/** More than one line. */
	rows?: number | undefined;
	autoComplete?: string | undefined;
	/** Codes and initials: capitals, no spelling help. */
	capitals?: boolean | undefined;
	maxLength?: number | undefined;
	/** It is what this screen asks for: the keyboard may come at once. */
	first?: boolean | undefined;
}

type Field = HTMLInputElement | HTMLTextAreaElement;

/** What an input and a text area have in common. */
function shared({ onChange, capitals, first, ...props }: WriteProps) {
	return {
		value: props.value,
		maxLength: props.maxLength ?? 200,
		autoComplete: props.autoComplete ?? "off",
		...(capitals ? { autoCapitalize: "characters" as const, spellcheck: false } : {}),
		...(first ? { autoFocus: true } : {}),
		onInput: (event: Event) => onChange((event.currentTarget as Field).value),
	};
}

export function Write(props: WriteProps) {
	const { label, hint, kind = "text", rows } = props;
	const id = useId();
	const described = hint ? { "aria-describedby": `${id}-hint` } : {};
	const written = kind === "text" || kind === "search" || kind === "number";
	return (
		<div class="write">
			<label for={id}>{label}</label>
			{rows ? (
				<textarea id={id} rows={rows} {...described} {...shared(props)} />
			) : (
				<input
					id={id}
					{...(written ? { type: "text" as const, inputMode: modes[kind] } : { type: kind })}
					enterkeyhint={kind === "search" ? "search" : "done"}
					{...described}
					{...shared(props)}
				/>
			)}
			{hint && (
				<p id={`${id}-hint`} class="small">
					{hint}
				</p>
			)}
		</div>
	);
}
