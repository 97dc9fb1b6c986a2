import { Pictogram } from "./pictogram";
import { Link, route } from "./route";
import { say } from "./say";

export const places = ["today", "field", "bench", "ahead", "book"] as const;
export type PlaceName = (typeof places)[number];

const paths: Record<PlaceName, string> = {
	today: "/",
	field: "/field",
	bench: "/bench",
	ahead: "/ahead",
	book: "/book",
};

/** The five places, in thumb reach. Pressing the place where one is goes up to its first screen. */
export function PlacesBar({ place }: { place: PlaceName }) {
	return (
		<nav class="places" style={{ "--i": places.indexOf(place) }} aria-label={say("parts.places")}>
			{places.map((name) => (
				<Link
					key={name}
					to={paths[name]}
					aria-current={
						name === place ? (route.value.path === paths[name] ? "page" : "true") : undefined
					}
				>
					<Pictogram name={`go-${name}`} />
					<span>{say(`parts.place.${name}`)}</span>
				</Link>
			))}
		</nav>
	);
}
