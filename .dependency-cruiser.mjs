// The rooms of the project, from the ground up: each may import what stands above it in this list, and itself.
// `npm run rooms` draws them with their arrows; lint fails where an arrow runs up or files import each other in a circle.

/** Rooms in their order. `only` narrows what a room may import further. */
export const rooms = [
  // What knows nothing of this project.
  { room: 'server/src/text' },
  { room: 'server/src/incremental' },
  { room: 'server/src/generated' },
  { room: 'server/src/git', only: [] },
  // What both sides say to each other.
  { room: 'server/src/protocol', only: ['server/src/text'] },
  // The numbers: plain data in, plain data out.
  { room: 'server/src/model/core', only: [] },
  { room: 'server/src/model/skill', only: ['server/src/model/core', 'server/src/incremental'] },
  { room: 'server/src/model/run', only: ['server/src/model/(core|skill)', 'server/src/incremental'] },
  { room: 'server/src/model/rank', only: ['server/src/model/(core|skill|run)', 'server/src/incremental'] },
  {
    room: 'server/src/model/week',
    only: ['server/src/model/(core|skill|run|rank)', 'server/src/incremental'],
  },
  {
    room: 'server/src/model/review',
    only: ['server/src/model/(core|skill|run|rank)', 'server/src/incremental'],
  },
  { room: 'server/src/model', only: ['server/src/model', 'server/src/incremental'] },
  // Texts become documents, documents a project, a project a question.
  { room: 'server/src/files/fileKind.ts', only: [] },
  { room: 'server/src/files/yaml', only: ['server/src/(text|incremental)', 'server/src/files/fileKind.ts'] },
  {
    room: 'server/src/files/schema',
    only: ['server/src/(text|incremental|generated)', 'server/src/files/(yaml|kinds)'],
  },
  {
    room: 'server/src/files/documents',
    only: ['server/src/(text|incremental|generated)', 'server/src/files'],
  },
  { room: 'server/src/files', only: ['server/src/(text|incremental|generated)', 'server/src/files'] },
  { room: 'server/src/workspace' },
  { room: 'server/src/queries' },
  { room: 'server/src/journal' },
  { room: 'server/src/rules/engine' },
  { room: 'server/src/rules/lookup' },
  { room: 'server/src/rules/checks' },
  { room: 'server/src/rules' },
  { room: 'server/src/reports' },
  { room: 'server/src/logging' },
  // The two faces.
  { room: 'server/src/lsp/documents' },
  { room: 'server/src/lsp/estimates' },
  { room: 'server/src/lsp/editing' },
  { room: 'server/src/lsp/actions' },
  { room: 'server/src/lsp/requests' },
  { room: 'server/src/lsp/practice' },
  { room: 'server/src/lsp/server' },
  { room: 'server/src/cli/terminal' },
  { room: 'server/src/cli/project' },
  { room: 'server/src/cli/log' },
  { room: 'server/src/cli/commands' },
  { room: 'server/src/cli' },
  { room: 'server/src' },
];
