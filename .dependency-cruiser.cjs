/* One rule per arrow of the architecture (docs/decisions/0001-rooms-and-arrows.md). No exemptions. */
const room = (name) => `^lib/${name}/`;
const OUTSIDE = '^(lib|app|components|seed|tests)/';
/** A room may import only itself and the rooms it lists. */
const only = (name, comment, from, allowed) => ({
  name,
  comment,
  severity: 'error',
  from: { path: from },
  to: { path: OUTSIDE, pathNot: [from, ...allowed] },
});
/** A room may import only these packages and Node built-ins it lists. */
const packages = (name, comment, from, allowed) => ({
  name,
  comment,
  severity: 'error',
  from: { path: from },
  to: {
    dependencyTypesNot: [
      'local',
      'localmodule',
      'aliased',
      'aliased-tsconfig',
      'aliased-tsconfig-paths',
      'undetermined',
      'unknown',
      'core',
    ],
    pathNot: allowed,
  },
});
const core = (name, comment, from) => ({
  name,
  comment,
  severity: 'error',
  from: { path: from },
  to: { dependencyTypes: ['core'] },
});
const inPackage = (...names) => names.map((n) => `node_modules/${n}(/|$)`);

module.exports = {
  forbidden: [
    {
      name: 'no-cycles',
      comment: 'A cycle has no bottom to test first.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    only('statistics-imports-nothing', 'Numbers know nothing of the trade.', room('statistics'), []),
    packages('statistics-no-packages', 'Numbers need no package.', room('statistics'), []),
    core('statistics-no-node', 'Numbers run anywhere.', room('statistics')),
    only('registry-alone', 'Rules of the trade are pure.', room('registry'), []),
    packages('registry-packages', 'Rules of the trade use zod only.', room('registry'), inPackage('zod')),
    core('registry-no-node', 'Rules of the trade run in the browser too.', room('registry')),
    only('runtime-alone', 'Environment, log, clock, cache stand below everything.', room('runtime'), []),
    packages(
      'runtime-packages',
      'Runtime uses zod and pino.',
      room('runtime'),
      inPackage('zod', 'pino', 'server-only'),
    ),
    only('analysis-arrows', 'Analysis joins rules and numbers.', room('analysis'), [
      room('statistics'),
      room('registry'),
    ]),
    only('exchange-arrows', 'Encoders are pure.', room('exchange'), [room('registry')]),
    only('records-arrows', 'Records are the only door to the database.', room('records'), [
      room('registry'),
      room('runtime'),
    ]),
    only('access-arrows', 'Access decides who may do what.', room('access'), [
      room('records'),
      room('registry'),
      room('runtime'),
    ]),
    {
      name: 'database-only-in-records',
      comment: 'Prisma and pg are used by records alone (launch scripts use pg to start and migrate).',
      severity: 'error',
      from: { path: '^(lib|app|components|seed)/', pathNot: [room('records'), room('launch')] },
      to: { path: [...inPackage('@prisma', 'pg', 'prisma'), '^lib/records/generated/'] },
    },
    {
      name: 'session-actor-only-in-access',
      comment: 'Only access turns a session into an Actor.',
      severity: 'error',
      from: { pathNot: ['^lib/access/', '^tests/', '^lib/records/actor-of-session\\.ts$'] },
      to: { path: '^lib/records/actor-of-session\\.ts$' },
    },
    {
      name: 'program-actor-only-in-programs',
      comment: 'Only programs act without a session.',
      severity: 'error',
      from: {
        pathNot: [
          '^lib/launch/',
          '^seed/',
          '^tests/',
          '^lib/records/actor-of-program\\.ts$',
          '^lib/records/users/first-administrator\\.ts$',
        ],
      },
      to: { path: '^lib/records/actor-of-program\\.ts$' },
    },
    {
      name: 'only-the-doors-seal-actors',
      comment: 'An Actor comes from a session or from a program, never from thin air.',
      severity: 'error',
      from: {
        pathNot: [
          '^lib/records/(actor-of-session|actor-of-program|actor-of-setup-link|record|bulk-load|actor-seal)\\.ts$',
          '^tests/',
        ],
      },
      to: { path: '^lib/records/actor-seal\\.ts$' },
    },
    {
      name: 'prisma-client-stays-inside',
      comment: 'record and keep are the doors for writing; the client itself never leaves the room.',
      severity: 'error',
      from: { pathNot: ['^lib/records/', '^tests/'] },
      to: { path: '^lib/records/(database|generated/)' },
    },
    {
      name: 'components-arrows',
      comment: 'Props in, markup out: components see rules and the types of analysis only.',
      severity: 'error',
      from: { path: '^components/' },
      to: { path: OUTSIDE, pathNot: ['^components/', room('registry'), room('analysis')] },
    },
    {
      name: 'components-take-types-of-analysis',
      comment: 'Charts never compute.',
      severity: 'error',
      from: { path: '^components/' },
      to: { path: room('analysis'), dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'app-arrows',
      comment: 'Pages do no statistics and start nothing.',
      severity: 'error',
      from: { path: '^(app/|proxy\\.ts$)' },
      to: { path: [room('statistics'), room('launch'), '^seed/', '^tests/'] },
    },
    {
      name: 'app-reads-in-load',
      comment: 'Reads happen in load.ts and api, writes in actions.ts and api.',
      severity: 'error',
      from: { path: '^app/', pathNot: ['/(load|actions)\\.ts$', '^app/api/'] },
      to: { path: [room('records'), room('analysis')], dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'nobody-imports-tests-or-seed',
      comment: 'The product does not know its tests.',
      severity: 'error',
      from: { path: '^(lib|app|components)/' },
      to: { path: '^(tests|seed)/' },
    },
    only('seed-arrows', 'The demo lab enters through records like everybody.', '^seed/', [
      room('records'),
      room('registry'),
    ]),
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^lib/records/generated/' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      extensions: ['.ts', '.tsx', '.mjs', '.js', '.cjs', '.json'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
    },
  },
};
