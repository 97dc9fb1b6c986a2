/** Taking a picture with the phone's own camera, and showing one that is kept. */
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { TakenPhoto } from "../records/desk";
import { PhoneError } from "../sync/ports";
import { useDesk } from "./desk";
import { Pictogram } from "./pictogram";
import "./styles/write.css";

export interface CameraProps {
	onPhoto: (photo: TakenPhoto) => void;
	onFault: (thrown: unknown) => void;
}

/** What this browser could not draw is kept as it came, with no size of its own. */
const isUnreadable = ({ w, h }: TakenPhoto) => w === 1 && h === 1;

/** The camera, or the phone's album where there is none; the picture is scaled down and kept before it is handed on. */
export function useCamera({ onPhoto, onFault }: CameraProps) {
	const desk = useDesk();
	const take = async (input: HTMLInputElement) => {
		const file = input.files?.[0];
		if (!file) return;
		try {
			const photo = await desk.takePhoto(file);
			onPhoto(photo);
			if (isUnreadable(photo)) onFault(new PhoneError("photo-unreadable"));
		} catch (thrown) {
			onFault(thrown);
		}
		// The same file may be chosen again after a fault.
		input.value = "";
	};
	return {
		type: "file",
		accept: "image/*",
		capture: "environment",
		onChange: (event: Event) => void take(event.currentTarget as HTMLInputElement),
	} as const;
}

/** The camera as a square beside an answer. */
export function PhotoSide(props: CameraProps & { label: string; taken: boolean }) {
	const camera = useCamera(props);
	return (
		<label class="side camera" data-taken={props.taken}>
			<Pictogram name="do-photo" />
			<input aria-label={props.label} {...camera} />
		</label>
	);
}

/** The camera as an answer. */
export function PhotoAnswer(
	props: CameraProps & { word: string; then?: ComponentChildren; main?: boolean },
) {
	const camera = useCamera(props);
	return (
		<label class={props.main ? "answer camera main" : "answer camera"}>
			<Pictogram name="do-photo" />
			<span class="word">{props.word}</span>
			{props.then && <span class="then">{props.then}</span>}
			<input aria-label={props.word} {...camera} />
		</label>
	);
}

/** A kept picture; nothing where this size is not on the phone and cannot be fetched now. */
export function Picture(props: { sha256: string; alt: string; size?: "thumb" | "full" }) {
	const desk = useDesk();
	const { sha256, size = "thumb" } = props;
	const [url, setUrl] = useState<string | null>(null);
	useEffect(() => {
		let wanted = true;
		let shown: string | null = null;
		desk.photoUrl(sha256, size).then(
			(found) => {
				shown = found;
				if (wanted) setUrl(found);
				else if (found) URL.revokeObjectURL(found);
			},
			() => setUrl(null),
		);
		return () => {
			wanted = false;
			if (shown) URL.revokeObjectURL(shown);
		};
	}, [desk, sha256, size]);
	if (!url) return null;
	return <img class="photo" src={url} alt={props.alt} onError={() => setUrl(null)} />;
}
