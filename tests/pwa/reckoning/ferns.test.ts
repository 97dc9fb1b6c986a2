import { expect, test } from "vitest";
import { fernOf, searchFerns, withoutAuthor } from "../../../pwa/src/reckoning/ferns";

const names = (typed: string) => searchFerns(typed, 50).map(({ name }) => name);

test("how ripe looks belongs to the fern", () => {
	expect(fernOf("Osmunda regalis")).toMatchObject({ sorus: "bead" });
	expect(fernOf("Osmunda regalis")?.ripeColour).toContain("dark green");
	expect(fernOf("Polypodium vulgare")).toMatchObject({ sorus: "naked", holdsOverWinter: false });
	expect(fernOf("Matteuccia struthiopteris")?.holdsOverWinter).toBe(true);
	expect(fernOf("Polypodium vulgare")?.ripeColour).toContain("golden yellow");
});

test("qualifiers, cultivars and 'sp.' do not hide the fern; valves are drawn as cups", () => {
	expect(fernOf("Dryopteris cf. affinis")?.sorus).toBe("lid");
	expect(fernOf("Athyrium filix-femina 'Frizelliae'")?.sorus).toBe("line");
	expect(fernOf("Dicksonia sp.")).toMatchObject({ sorus: "cup", ask: true });
});

test("what the tables do not have is not known, and nothing is made up", () => {
	expect(fernOf("Filicopsis inventa")).toBeNull();
	expect(fernOf("Woodsia obtusa")).toMatchObject({ sorus: "other", ask: false });
});

test("search takes the beginnings of both words, and English names", () => {
	expect(names("dryo aff")).toEqual(["Dryopteris affinis"]);
	expect(names("lady fern")[0]).toBe("Athyrium filix-femina");
	expect(names("filix-f")).toContain("Athyrium filix-femina");
	expect(names("osmunda")[0]).toMatch(/^Osmunda /);
	expect(names("  ")).toEqual([]);
	expect(names("zzz")).toEqual([]);
});

test("a name that begins so comes before one that only has a word of it", () => {
	const found = names("aspl");
	expect(found.length).toBeGreaterThan(3);
	expect(found[0]).toMatch(/^Asplenium/);
});

test("authors are cut off, crosses of hybrids stay", () => {
	expect(withoutAuthor("Dryopteris affinis (Lowe) Fraser-Jenk.")).toBe("Dryopteris affinis");
	expect(withoutAuthor("Asplenium × ebenoides R.R.Scott")).toBe("Asplenium × ebenoides");
});
