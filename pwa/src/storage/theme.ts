// The chosen theme. Read before the first picture is drawn, so it cannot wait for IndexedDB.

const KEY = "sporeline-theme";

export const themeKeeper = {
	load(): string | null {
		try {
			return localStorage.getItem(KEY);
		} catch {
			return null;
		}
	},
	keep(theme: string | null): void {
		try {
			if (theme === null) localStorage.removeItem(KEY);
			else localStorage.setItem(KEY, theme);
		} catch {
			// A browser that keeps nothing: the theme lasts as long as the page.
		}
	},
};
