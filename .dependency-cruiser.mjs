// The floor plan as law: a room imports only from rooms on lower floors.
// The table in DEVELOPERS.md is the same one.
const floors = [
  ["foundation"],
  ["signal", "machine", "evaluation"],
  ["recording", "speed", "synthesis"],
  ["evidence"],
  ["diagnosis"],
  ["inspection", "comparison"],
  ["answer"],
  ["report"],
  ["batch"],
];

const floorOf = new Map(floors.flatMap((rooms, floor) => rooms.map((room) => [room, floor])));
const rooms = [...floorOf.keys()];

const downOnly = rooms.map((room) => {
  const allowed = rooms.filter((other) => floorOf.get(other) < floorOf.get(room));
  return {
    name: `${room}-imports-down-only`,
    comment: `src/${room} may import itself and ${allowed.join(", ") || "nothing else"}.`,
    severity: "error",
    from: { path: `^src/${room}/` },
    to: { path: "^src/", pathNot: `^src/(${[room, ...allowed].join("|")})/` },
  };
});

export default {
  forbidden: [
    ...downOnly,
    {
      name: "cli-uses-the-public-door",
      comment: "The command line is thin: it reaches the library through src/index.ts only.",
      severity: "error",
      from: { path: "^cli/" },
      to: { path: "^src/", pathNot: "^src/index\\.ts$" },
    },
    {
      name: "library-never-imports-cli",
      comment: "src does not know that a command line exists.",
      severity: "error",
      from: { path: "^src/" },
      to: { path: "^cli/" },
    },
    {
      name: "node-modules-of-node-only-where-files-are-read",
      comment:
        "Everything but batch, the file reader in recording and the command line must run in a browser.",
      severity: "error",
      from: { path: "^src/", pathNot: "^src/(batch|recording/files)/" },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "data-files-import-types-only",
      comment: "A *.data.ts file holds rows, not logic.",
      severity: "error",
      from: { path: "\\.data\\.ts$" },
      to: { dependencyTypesNot: ["type-only"], pathNot: "\\.data\\.ts$" },
    },
    {
      name: "no-cycles",
      comment: "A cycle hides which file stands on which.",
      severity: "error",
      from: {},
      to: { circular: true },
    },
    {
      name: "no-undeclared-packages",
      comment: "Every package used is in package.json.",
      severity: "error",
      from: { path: "^(src|cli)/" },
      to: { dependencyTypes: ["npm-no-pkg", "npm-unknown", "npm-dev"] },
    },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: "tsconfig.json" },
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "node", "default", "types"],
      extensions: [".ts", ".js", ".mjs", ".json"],
    },
  },
};
