import { Pictogram, type PictogramName } from "./pictogram";
import { isTextKey, say } from "./say";

export interface Fault {
	code: string;
	message?: string | undefined;
	fix?: string | null | undefined;
}

/** What is known of anything thrown: a fault with a code, or the fault that has none. */
export function faultOf(thrown: unknown): Fault {
	if (thrown && typeof thrown === "object" && "code" in thrown && typeof thrown.code === "string")
		return thrown as Fault;
	return { code: "unexpected", message: thrown instanceof Error ? thrown.message : String(thrown) };
}

const sentence = (code: string, part: "happened" | "safe" | "do", otherwise: string): string => {
	const key = `errors.${code}.${part}`;
	return isTextKey(key) ? say(key) : otherwise;
};

/** What happened, what is safe, what to do, in that order; never over the work. */
export function ErrorPart({
	fault,
	picture = "store-phone",
}: {
	fault: Fault;
	picture?: PictogramName;
}) {
	const happened = sentence(
		fault.code,
		"happened",
		fault.message || say("parts.error.happened", { code: fault.code }),
	);
	const safe = sentence(fault.code, "safe", say("parts.error.safe"));
	const doing = sentence(fault.code, "do", fault.fix ?? say("parts.error.do"));
	return (
		<div class="row alarm" role="alert">
			<Pictogram name={picture} />
			<span class="w">
				<b>{happened}</b>
				<small>
					{safe} {doing}
				</small>
			</span>
		</div>
	);
}
