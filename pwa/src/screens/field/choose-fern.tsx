/** Which fern: what is known here, what is in our records, the list of ferns, or as written; then how sure. */
import { useState } from "preact/hooks";
import { Answer, Answers } from "../../parts/answer";
import { useDesk } from "../../parts/desk";
import { Page } from "../../parts/page";
import { back } from "../../parts/route";
import { Group, Row } from "../../parts/row";
import { say } from "../../parts/say";
import { Ask } from "../../parts/sheet";
import { FernName, fullName, Taxon } from "../../parts/taxon";
import { Write } from "../../parts/write";
import { searchFerns } from "../../reckoning/ferns";
import type { Fix, GivenName, Naming, Shelves } from "../../records/desk";
import { lastCuts, plantsAround } from "./offer";

export interface KnownName {
	naming: GivenName;
	/** The record that bears it: where it comes from. */
	where: string;
}

const given = ({ taxon, sure, qualifier, other }: Naming): GivenName => ({
	taxon,
	sure,
	qualifier,
	other,
});

/** Names borne by plants around, then by the last cuts, each once. */
export function knownNames(records: Shelves, fix: Fix | null, most: number): KnownName[] {
	const around = plantsAround(records, fix).map(({ plant }) => plant);
	const found = new Map<string, KnownName>();
	for (const record of [...around, ...lastCuts(records)]) {
		const naming = records.nameOf(record.id);
		if (!naming?.taxon) continue;
		const key = fullName(naming);
		if (!found.has(key))
			found.set(key, { naming: given(naming), where: records.labelOf(record.id) });
	}
	return [...found.values()].slice(0, most);
}

const sureAnswers = [
	{ sure: "certain", qualifier: null, word: "field.fern.certain", picture: "do-yes" },
	{ sure: "probable", qualifier: null, word: "field.fern.probable", picture: "object-fern" },
	{
		sure: "probable",
		qualifier: "cf",
		word: "field.fern.looks-like",
		picture: "ripeness-cant-tell",
	},
] as const;

function HowSure(props: { taxon: string; choose: (naming: GivenName) => void }) {
	return (
		<>
			<Ask>{say("field.fern.sure")}</Ask>
			<Answers>
				{sureAnswers.map(({ sure, qualifier, word, picture }) => (
					<Answer
						key={word}
						word={say(word)}
						picture={picture}
						then={qualifier ? say("field.fern.looks-like.then") : undefined}
						onPress={() => props.choose({ taxon: props.taxon, sure, qualifier })}
					/>
				))}
			</Answers>
		</>
	);
}

function Names(props: {
	typed: string;
	known: KnownName[];
	take: (naming: GivenName) => void;
	ask: (taxon: string) => void;
}) {
	const typed = props.typed.trim();
	const listed = searchFerns(typed, 8);
	const written = typed !== "" && !listed.some(({ name }) => name === typed);
	const like = (known: KnownName) =>
		fullName(known.naming).toLowerCase().includes(typed.toLowerCase());
	const known = props.known.filter(like);
	return (
		<>
			{known.length > 0 && <Group word={say("field.fern.known")} />}
			{known.map(({ naming, where }) => (
				<Row
					key={where}
					picture="object-fern"
					main={<FernName naming={naming} />}
					under={say("field.fern.here", { label: where })}
					onPress={() => props.take(naming)}
				/>
			))}
			{listed.length > 0 && <Group word={say("field.fern.list")} />}
			{listed.map(({ name, also }) => (
				<Row
					key={name}
					picture="object-label"
					main={<Taxon name={name} />}
					under={also ?? undefined}
					onPress={() => props.ask(name)}
				/>
			))}
			{written && (
				<Row
					picture="object-label"
					main={`“${typed}”`}
					under={say("field.fern.as-written")}
					onPress={() => props.ask(typed)}
				/>
			)}
		</>
	);
}

/** Chosen: a name with how sure, or none (`null`: not known). Then one step back. */
export function ChooseFern(props: {
	choose: (naming: GivenName | null) => void;
	otherwise: string;
}) {
	const desk = useDesk();
	const [typed, write] = useState("");
	const [taxon, ask] = useState<string | null>(null);
	const take = (naming: GivenName | null) => {
		props.choose(naming);
		back(props.otherwise);
	};
	const known = knownNames(desk.records.value, desk.position.value.fix, 5);
	if (taxon !== null)
		return (
			<Page
				place="field"
				when={say("field.fern.when")}
				title={<Taxon name={taxon} />}
				windowTitle={taxon}
				sheet={<HowSure taxon={taxon} choose={take} />}
			>
				<Row picture="object-fern" main={say("field.fern.other")} onPress={() => ask(null)} />
			</Page>
		);
	return (
		<Page
			place="field"
			when={say("field.fern.when")}
			title={say("field.fern.title")}
			sheet={
				<>
					<Write
						label={say("field.fern.write")}
						hint={say("field.fern.hint")}
						value={typed}
						onChange={write}
						kind="search"
					/>
					<Answers>
						<Answer
							picture="ripeness-cant-tell"
							word={say("field.fern.unknown")}
							then={say("field.fern.unknown.then")}
							onPress={() => take(null)}
						/>
					</Answers>
				</>
			}
		>
			<Names typed={typed} known={known} take={take} ask={ask} />
		</Page>
	);
}
