/** A note as it was written, its wrong words ringed. */
import { useDesk } from "../../parts/desk";
import { sayWith } from "../../parts/say";
import type { StoredEntry } from "../../records/desk";
import type { Place } from "./fixes";
import { momentText, whoText } from "./people-words";
import { fieldText, kindText, valueText } from "./values";

export function Slip({ stored, wrong }: { stored: StoredEntry; wrong: Place }) {
	const desk = useDesk();
	const records = desk.records.value;
	const today = desk.today.value;
	const { entry } = stored;
	const when = momentText(entry.at, today, entry.span?.said);
	const fields = Object.entries(entry.data);
	return (
		<div class="pad slip-place">
			<div class="slip">
				<p class="small">
					{records.labelOf(entry.about)}:{" "}
					{sayWith("book.fix.written", {
						who: whoText(records, entry.by),
						when: wrong.part === "at" ? <span class="ringed">{when}</span> : when,
					})}
				</p>
				<p class="said">
					{kindText(entry.kind)}
					{fields.length > 0 && "; "}
					{fields.map(([field, value], i) => {
						const words = `${fieldText(field, entry.kind)}: ${valueText(records, field, value)}`;
						const ringed = wrong.part === "data" && wrong.field === field;
						return (
							<span key={field}>
								{i > 0 && ", "}
								{ringed ? <span class="ringed">{words}</span> : words}
							</span>
						);
					})}
				</p>
			</div>
		</div>
	);
}
