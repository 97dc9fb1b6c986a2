/** Passing something on by the phone's own share sheet, the clipboard, or as a file among one's downloads. */
import type { ExportFile } from "../../records/desk";

function download(file: File): void {
	const link = document.createElement("a");
	link.href = URL.createObjectURL(file);
	link.download = file.name;
	link.click();
	// The browser has begun to read it by the time that the click returns.
	URL.revokeObjectURL(link.href);
}

const leftAlone = (thrown: unknown) =>
	thrown instanceof DOMException && thrown.name === "AbortError";

/** Offer a file to the share sheet, else keep it as a download. False where the person left the sheet without choosing. */
export async function handOver({ name, type, text }: ExportFile): Promise<boolean> {
	const file = new File([text], name, { type });
	if (navigator.canShare?.({ files: [file] })) {
		try {
			await navigator.share({ files: [file] });
			return true;
		} catch (thrown) {
			if (leftAlone(thrown)) return false;
		}
	}
	download(file);
	return true;
}

export const canShareWords = (): boolean => typeof navigator.share === "function";

/** Words by the share sheet; false where it was left. */
export async function shareWords(text: string): Promise<boolean> {
	try {
		await navigator.share({ text });
		return true;
	} catch (thrown) {
		if (leftAlone(thrown)) return false;
		throw thrown;
	}
}

export const copyWords = (text: string): Promise<void> => navigator.clipboard.writeText(text);
