// The rooms of the project, from the ground up: each may import what stands above it in this list, and itself.
// `npm run rooms` draws them with their arrows; lint fails where an arrow runs up or files import each other in a circle.

/** Rooms in their order. `only` narrows what a room may import further. */
export const rooms = [
  // What knows nothing of this project.
  { room: 'server/src/text', only: [] },
  { room: 'server/src/incremental', only: [] },
  { room: 'server/src/generated', only: [] },
  { room: 'server/src/git', only: [] },
  // The numbers: plain data in, plain data out.
  { room: 'server/src/model/core', only: ['incremental'] },
  { room: 'server/src/model/skill', only: ['incremental', 'model/core'] },
  { room: 'server/src/model/run', only: ['incremental', 'model/(core|skill)'] },
  { room: 'server/src/model/rank', only: ['incremental', 'model/(core|skill|run)'] },
  { room: 'server/src/model/week', only: ['incremental', 'model/(core|skill|run|rank)'] },
  { room: 'server/src/model/review', only: ['incremental', 'model/(core|skill|run|rank)'] },
  { room: 'server/src/model', only: ['incremental', 'model'] },
  // What the server and the client say to each other.
  { room: 'server/src/protocol', only: ['text', 'model/core'] },
  // A text becomes a document, documents a project, a project a question to the model.
  { room: 'server/src/files/fileKind.ts', only: [] },
  { room: 'server/src/files/yaml', only: ['text', 'incremental', 'files/fileKind'] },
  { room: 'server/src/files/schema', only: ['text', 'incremental', 'generated', 'files'] },
  { room: 'server/src/files/reading', only: ['text', 'incremental', 'files'] },
  { room: 'server/src/files/edit', only: ['text', 'incremental', 'files'] },
  { room: 'server/src/files/documents', only: ['text', 'incremental', 'generated', 'files'] },
  { room: 'server/src/workspace', only: ['text', 'incremental', 'files'] },
  { room: 'server/src/queries', only: ['text', 'incremental', 'model', 'files', 'workspace'] },
  { room: 'server/src/journal', only: ['text', 'files'] },
  {
    room: 'server/src/rules/lookup',
    only: ['text', 'incremental', 'generated', 'model', 'files', 'workspace', 'queries'],
  },
  {
    room: 'server/src/rules/engine',
    only: ['text', 'incremental', 'model', 'files', 'workspace', 'queries', 'rules'],
  },
  {
    room: 'server/src/rules/checks',
    only: ['text', 'incremental', 'generated', 'model', 'files', 'workspace', 'queries', 'rules'],
  },
  {
    room: 'server/src/rules',
    only: ['text', 'incremental', 'model', 'files', 'workspace', 'queries', 'rules'],
  },
  { room: 'server/src/reports' },
  { room: 'server/src/logging' },
  // The two faces: the editor and the command line.
  { room: 'server/src/lsp/documents' },
  { room: 'server/src/lsp/estimates' },
  { room: 'server/src/lsp/checking' },
  { room: 'server/src/lsp/editing' },
  { room: 'server/src/lsp/requests' },
  { room: 'server/src/lsp/actions' },
  { room: 'server/src/lsp/practice' },
  { room: 'server/src/lsp/server' },
  { room: 'server/src/cli/terminal' },
  { room: 'server/src/cli/descriptions' },
  { room: 'server/src/cli/completion' },
  { room: 'server/src/cli/project' },
  { room: 'server/src/cli/checking' },
  { room: 'server/src/cli/log' },
  { room: 'server/src/cli/route' },
  { room: 'server/src/cli/commands' },
  { room: 'server/src/cli' },
  { room: 'server/src' },
];

/** The room of a file: of all that it lies in, the innermost. */
const inside = (room) => {
  const inner = rooms
    .map((other) => other.room)
    .filter((other) => other !== room && other.startsWith(`${room}/`));
  const end = room.endsWith('.ts') ? '$' : '/';
  return {
    path: `^${room}${end}`,
    ...(inner.length > 0 && { pathNot: inner.map((other) => `^${other}(/|$)`) }),
  };
};

const upwards = rooms.flatMap(({ room, only }, floor) => {
  const above = rooms.slice(floor + 1).map((other) => inside(other.room));
  return [
    ...above.map((to) => ({
      name: `${room} imports nothing above it`,
      severity: 'error',
      from: inside(room),
      to,
    })),
    ...(only
      ? [
          {
            name: `${room} imports only ${only.join(', ') || 'itself'}`,
            severity: 'error',
            from: inside(room),
            to: {
              path: '^(server/src|client)/',
              pathNot: [`^${room}(/|$)`, ...only.map((one) => `^server/src/${one}`)],
            },
          },
        ]
      : []),
  ];
});

export default {
  forbidden: [
    { name: 'no circle of imports', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'the client shares what is said, plain text and the reading of git with the server, and nothing else',
      severity: 'error',
      from: { path: '^client/' },
      to: { path: '^server/', pathNot: '^server/src/(protocol|text|git)/' },
    },
    ...upwards,
  ],
  options: {
    includeOnly: '^(server/src|client)/',
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
  },
};
