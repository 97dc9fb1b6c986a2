// Keys to ids, kept up as records change.

export class MultiIndex {
	private readonly ids = new Map<string, Set<string>>();
	private readonly keys = new Map<string, string[]>();

	/** From now on the id stands under these keys and no others. */
	set(id: string, keys: string[]): void {
		for (const key of this.keys.get(id) ?? []) this.drop(key, id);
		this.keys.set(id, keys);
		for (const key of keys) {
			const under = this.ids.get(key);
			if (under) under.add(id);
			else this.ids.set(key, new Set([id]));
		}
	}

	under(key: string): string[] {
		return [...(this.ids.get(key) ?? [])];
	}

	has(key: string): boolean {
		return this.ids.has(key);
	}

	/** Keys that begin so and hold at least that many ids. */
	crowded(prefix: string, least: number): [rest: string, ids: string[]][] {
		const found: [string, string[]][] = [];
		for (const [key, ids] of this.ids)
			if (ids.size >= least && key.startsWith(prefix))
				found.push([key.slice(prefix.length), [...ids]]);
		return found;
	}

	private drop(key: string, id: string): void {
		const under = this.ids.get(key);
		under?.delete(id);
		if (under?.size === 0) this.ids.delete(key);
	}
}
