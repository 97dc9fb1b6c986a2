// Arrows point down: app > screens > parts > records > sync > reckoning > kernel > contract.
// storage and transport plug in from the side: they implement sync/ports.ts and only app/ picks them.
const rooms = ["app", "screens", "parts", "records", "sync", "reckoning", "kernel", "contract"];

const stays = (room, comment) => ({
	name: `${room}-looks-down`,
	severity: "error",
	comment,
	from: { path: `^src/${room}/` },
	to: { path: "^src/", pathNot: `^src/(${rooms.slice(rooms.indexOf(room)).join("|")})/` },
});

module.exports = {
	forbidden: [
		{ name: "no-cycles", severity: "error", from: {}, to: { circular: true } },
		stays("contract", "Generated data and types only."),
		stays("kernel", "Twin of the server's kernel: no browser, store, clock or network."),
		stays("reckoning", "Pure figures for the bench with no signal."),
		stays("sync", "Knows stores and server only through its ports.ts."),
		stays("records", "What a person does, as verbs; knows stores only through sync's ports."),
		stays("parts", "Shared components know no screen."),
		stays("screens", "Screens ask records/; they never open a database or call the network."),
		{
			name: "rooms-are-known",
			severity: "error",
			comment: "A new room is put into this file and DEVELOPERS.md on purpose.",
			from: { path: "^src/" },
			to: {
				path: "^src/",
				pathNot: `^src/(${[...rooms, "storage", "transport", "service-worker"].join("|")})/`,
			},
		},
		{
			name: "plugs-see-only-ports",
			severity: "error",
			comment: "storage and transport implement sync/ports.ts and do not know each other.",
			from: { path: "^src/(storage|transport)/" },
			to: { path: "^src/", pathNot: "^src/(kernel|contract)/|^src/sync/ports\\.ts$|^src/$1/" },
		},
		{
			name: "worker-is-its-own-bundle",
			severity: "error",
			comment: "The service worker sees itself and contract/ alone.",
			from: { path: "^src/service-worker/" },
			to: { path: "^src/", pathNot: "^src/(service-worker|contract)/" },
		},
		{
			name: "nobody-imports-the-worker",
			severity: "error",
			from: { path: "^src/", pathNot: "^src/service-worker/" },
			to: { path: "^src/service-worker/" },
		},
		{
			name: "one-database-owner",
			severity: "error",
			comment: "Only storage/ opens IndexedDB.",
			from: { path: "^src/", pathNot: "^src/storage/" },
			to: { path: "node_modules/(dexie|idb|idb-keyval|fake-indexeddb)/" },
		},
		{
			name: "stays-in-the-house",
			severity: "error",
			comment: "Nothing in src reads the server's sources, tests or the seed scenario.",
			from: { path: "^src/" },
			to: { path: "^\\.\\./", pathNot: "node_modules/" },
		},
		{ name: "resolves", severity: "error", from: { path: "^src/" }, to: { couldNotResolve: true } },
		{
			name: "no-orphans",
			severity: "error",
			from: {
				orphan: true,
				path: "^src/",
				// What is generated is whole, whoever uses it.
				pathNot: [
					"\\.d\\.ts$",
					"^src/contract/",
					"^src/service-worker/worker\\.ts$",
					"^src/app/main\\.tsx$",
				],
			},
			to: {},
		},
	],
	options: {
		tsConfig: { fileName: "tsconfig.json" },
		tsPreCompilationDeps: true,
		doNotFollow: { path: "node_modules" },
	},
};
