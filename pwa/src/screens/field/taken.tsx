/** How much was taken, and wild or garden: small tiles in one row. */

import { say } from "../../parts/say";
import { Bit, BitGap, Bits } from "../../parts/tiles";
import type { Grown, Taken } from "../../records/desk";

const takens = ["pinna", "part", "frond", "more"] as const satisfies readonly Taken[];
const growns = ["wild", "garden"] as const satisfies readonly Grown[];

export function TakenBits(props: {
	taken: Taken | null;
	grown: Grown | null;
	set: (patch: { taken?: Taken | null; grown?: Grown | null }) => void;
}) {
	const { taken, grown, set } = props;
	return (
		<Bits>
			{takens.map((one) => (
				<Bit
					key={one}
					word={say(`field.taken.${one}`)}
					picture={`taken-${one}`}
					pressed={taken === one}
					onPress={() => set({ taken: one })}
				/>
			))}
			<BitGap />
			{growns.map((one) => (
				<Bit
					key={one}
					word={say(`field.grown.${one}`)}
					picture={`grown-${one}`}
					pressed={grown === one}
					onPress={() => set({ grown: grown === one ? null : one })}
				/>
			))}
		</Bits>
	);
}
