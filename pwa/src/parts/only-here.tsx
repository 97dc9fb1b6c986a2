import { useDesk } from "./desk";
import { Link } from "./route";
import { say } from "./say";

const minute = 60_000;
const hour = 60 * minute;
const day = 24 * hour;

/** "now", "5 min", "5 h", "3 d": how long the oldest of them has existed only here. */
export function ageText(ms: number): string {
	if (ms < minute) return say("parts.age.now");
	if (ms < hour) return say("parts.age.minutes", { n: Math.floor(ms / minute) });
	if (ms < day) return say("parts.age.hours", { n: Math.floor(ms / hour) });
	return say("parts.age.days", { n: Math.floor(ms / day) });
}

const phone =
	"M4 1.5H24A2.5 2.5 0 0 1 26.5 4V42A2.5 2.5 0 0 1 24 44.5H4A2.5 2.5 0 0 1 1.5 42V4A2.5 2.5 0 0 1 4 1.5ZM11 39.5H17";
const tick = "M8 23L12.5 28L20 17";

/** What exists only on this phone: how much, and for how long. Always in the same corner; it never blinks. */
export function OnlyHere() {
	const { unsent, oldestUnsentMs } = useDesk().safety.value;
	const age = unsent ? ageText(oldestUnsentMs ?? 0) : "";
	const old = unsent > 0 && (oldestUnsentMs ?? 0) >= day;
	const label = unsent
		? say("parts.only-here.some", { n: unsent, age })
		: say("parts.only-here.none");
	return (
		<Link class={old ? "only old" : "only"} to="/book/only-here" aria-label={label}>
			<svg viewBox="0 0 28 46" fill="none" stroke="currentColor" aria-hidden="true">
				<path class="ns" d={unsent ? phone : phone + tick} />
				{unsent > 0 && (
					<text class={unsent > 99 ? "only-n three" : "only-n"} x="14" y="29" text-anchor="middle">
						{unsent > 999 ? "999" : unsent}
					</text>
				)}
			</svg>
			{unsent > 0 && <span>{age}</span>}
		</Link>
	);
}
