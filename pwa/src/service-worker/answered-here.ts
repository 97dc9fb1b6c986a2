// Was a task already answered on this phone, in a note that the server has not seen yet?

interface UnsentRow {
	id: string;
	refs: string[];
	entry: { kind: string; data: Record<string, unknown> };
}

/** Named as storage/ names them; a test holds the two together. */
export const VAULT = { name: "sporeline-vault", store: "entries", index: "unsent" } as const;

const LOOKS = new Set(["growth.seen", "shelf.walked", "trouble.begun", "cover.set"]);

/** Whether the vault's unsent entries answer the task; false when that cannot be learnt. */
export async function answeredHere(indexedDb: IDBFactory, task: string): Promise<boolean> {
	try {
		return answers(await unsentRows(indexedDb), task);
	} catch {
		return false;
	}
}

/** An answer to this very task, or a look at its subject; crossed-out ones do not count. */
export function answers(rows: UnsentRow[], task: string): boolean {
	const [subject] = task.split("/");
	const struck = new Set(
		rows.filter((row) => row.entry.kind === "entry.struck").map((row) => row.entry.data.entry),
	);
	return rows.some(
		({ id, refs, entry }) =>
			!struck.has(id) &&
			(entry.kind === "task.answered"
				? entry.data.task === task
				: LOOKS.has(entry.kind) && refs.includes(subject ?? "")),
	);
}

async function unsentRows(indexedDb: IDBFactory): Promise<UnsentRow[]> {
	const vault = await open(indexedDb);
	try {
		const store = vault.transaction(VAULT.store, "readonly").objectStore(VAULT.store);
		return await asked<UnsentRow[]>(store.index(VAULT.index).getAll());
	} finally {
		vault.close();
	}
}

/** Opens the vault as it is; a phone without one gets none made here. */
async function open(indexedDb: IDBFactory): Promise<IDBDatabase> {
	const request = indexedDb.open(VAULT.name);
	request.onupgradeneeded = () => request.transaction?.abort();
	return asked(request);
}

function asked<T>(request: IDBRequest<T>): Promise<T> {
	return new Promise((resolve, reject) => {
		request.onsuccess = () => resolve(request.result);
		request.onerror = () => reject(request.error);
	});
}
