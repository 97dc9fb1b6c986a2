import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { Desk } from "../records/desk";

export const DeskContext = createContext<Desk | null>(null);

/** The desk that the wiring put around the screens. */
export function useDesk(): Desk {
	const desk = useContext(DeskContext);
	if (!desk) throw new Error("No desk: render screens inside DeskContext.Provider");
	return desk;
}
