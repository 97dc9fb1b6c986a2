import { say } from "../../parts/say";
import { Ask } from "../../parts/sheet";
import { Tile, Tiles } from "../../parts/tiles";

/** Nothing is asked: the ways to what one may want to do all the same. */
export function Doors() {
	return (
		<>
			<Ask>{say("today.doors.ask")}</Ask>
			<Tiles>
				<Tile word={say("today.doors.sow")} picture="object-packet" to="/bench/sow" />
				<Tile word={say("today.doors.box")} picture="object-box" to="/bench" />
				<Tile word={say("today.doors.field")} picture="go-field" to="/field" />
			</Tiles>
		</>
	);
}
