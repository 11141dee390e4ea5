/** The walls of the house: what may import what, and why. `npm run walls` checks them. */
module.exports = {
  forbidden: [
    {
      name: 'no-cycles',
      comment: 'Two files that need each other are one idea in two places, or two ideas in the wrong ones.',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'shared-stands-alone',
      comment: 'shared/ runs in the browser too: nothing of the server, nothing of Node, only packages that are pure themselves.',
      severity: 'error',
      from: { path: '^shared/', pathNot: '\\.test\\.ts$' },
      to: { pathNot: '^shared/|^node_modules/(canonicalize|d3-sankey|d3-shape|d3-array|d3-path|culori|@types/culori|@types/d3-[a-z]+)/' },
    },
    {
      name: 'decide-is-pure',
      comment: 'A decision is a function of command and state: no database, no clock, no framework, no query that runs.',
      severity: 'error',
      from: { path: '\\.decide\\.ts$' },
      to: { pathNot: '^shared/|\\.facts\\.ts$|\\.decide\\.ts$|people/(access|signature)\\.ts$|ledger/fact\\.ts$' },
    },
    {
      name: 'facts-are-plain',
      comment: 'Facts outlive everything else, so they know nothing else.',
      severity: 'error',
      from: { path: '\\.facts\\.ts$' },
      to: { pathNot: '^shared/|\\.facts\\.ts$|people/(access|signature)\\.ts$|ledger/fact\\.ts$' },
    },
    {
      name: 'features-meet-in-facts',
      comment: 'One feature reads another through its facts, queries and rule functions; never through its services, tables or projectors.',
      severity: 'error',
      from: { path: '^src/server/plant/([^/]+)/', pathNot: '\\.(test|module)\\.ts$' },
      to: {
        path: '^src/server/plant/([^/]+)/',
        pathNot: [
          '^src/server/plant/$1/',
          '\\.(facts|query|decide|dto)\\.ts$',
          'people/(access|signature)\\.ts$',
        ],
      },
    },
    {
      name: 'platform-knows-no-plant',
      comment: 'The platform could carry another trade.',
      severity: 'error',
      from: { path: '^src/server/platform/' },
      to: { path: '^src/server/(plant|trace|documents|ledger|cli)/' },
    },
    {
      name: 'ledger-knows-no-plant',
      comment: 'The ledger knows entries and hashes, not lots.',
      severity: 'error',
      from: { path: '^src/server/ledger/' },
      to: { path: '^src/server/(plant|trace|documents|cli)/' },
    },
    {
      name: 'documents-read-nothing',
      comment: 'A document is drawn from plain data: it asks no database and no service.',
      severity: 'error',
      from: { path: '^src/server/documents/' },
      to: { path: '^src/server/(plant|trace|ledger|platform|cli)/|^node_modules/(typeorm|@nestjs)/' },
    },
    {
      name: 'only-one-file-knows-the-pdf-library',
      comment: 'The library can be changed in one place.',
      severity: 'error',
      from: { pathNot: '^src/server/documents/pdf/' },
      to: { path: '^node_modules/(pdfkit|@types/pdfkit)/' },
    },
    {
      name: 'web-is-not-server',
      comment: 'The browser client talks HTTP: from the rest of the project it takes shared/ only.',
      severity: 'error',
      from: { path: '^src/web/' },
      to: { pathNot: '^src/web/|^shared/|^node_modules/|/schema\\.js$' }, // schema is made by the build from the API document
    },
    {
      name: 'screens-stand-apart',
      comment: 'Each place is loaded when it is visited: a screen that reaches into another would load both. What two need is in design/ or pictures/.',
      severity: 'error',
      from: { path: '^src/web/(today|receiving|lots|inspection|production|nonconformance|dispatch|trace|recall|ledger|set-up)/' },
      to: {
        path: '^src/web/(today|receiving|lots|inspection|production|nonconformance|dispatch|trace|recall|ledger|set-up)/',
        pathNot: '^src/web/$1/',
      },
    },
    {
      name: 'no-orphans',
      comment: 'A file nothing imports is dead.',
      severity: 'error',
      from: { orphan: true, path: '^(src|shared)/', pathNot: '\\.test\\.ts$|cli/main\\.ts$|write-openapi\\.ts$|^shared/api/|^src/web/' },
      to: {},
    },
  ],
  options: {
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '\\.test\\.ts$' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'require', 'default', 'types'],
      extensions: ['.ts', '.tsx', '.js'],
    },
  },
};
