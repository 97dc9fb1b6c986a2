import { letterOf } from "../../parts/counting";
import { useDesk } from "../../parts/desk";
import { say } from "../../parts/say";
import { ShelfPicture } from "../../parts/shelf-picture";
import { looseBoxes } from "../../parts/standing";
import type { FoldedRecord, Task } from "../../records/desk";

/** Every shelf with its boxes as they stand; those that want an answer black, with the letter of their card. */
export function ShelvesDrawn({ cards }: { cards: Task[] }) {
	const records = useDesk().records.value;
	const letters = new Map(cards.map((task, i) => [task.subject, letterOf(i)]));
	const shelves = records
		.ofType("shelf")
		.map((shelf) => ({ name: records.labelOf(shelf.id), boxes: records.boxesOn(shelf.id) }));
	const loose = looseBoxes(records);
	if (loose.length) shelves.push({ name: say("today.shelf.loose"), boxes: loose });
	const standing = shelves.filter(({ boxes }) => boxes.length);
	const drawn = (boxes: FoldedRecord[]) => boxes.map((box) => ({ letter: letters.get(box.id) }));
	return (
		<>
			{standing.map(({ name, boxes }) => {
				const out = boxes.flatMap((box) => letters.get(box.id) ?? []).join(", ");
				const values = { n: boxes.length, shelf: name, letters: out };
				return (
					<ShelfPicture
						key={name}
						name={standing.length > 1 ? name : undefined}
						boxes={drawn(boxes)}
						label={out ? say("today.shelf.label", values) : say("today.shelf.label-none", values)}
					/>
				);
			})}
		</>
	);
}
