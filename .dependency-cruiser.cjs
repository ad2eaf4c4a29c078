// Each folder of src/ knows only those before it in this list (decision 0001).
const layers = [
  'problem',
  'wasm',
  'quantity',
  'expression',
  'inference',
  'model',
  'evolve',
  'engine',
  'instrument',
  'reduction',
  'lab',
  'edit',
  'run',
  'reconcile',
  'adapt',
  'classroom',
  'figure',
  'publish',
  'files',
  'server',
  'cli',
];

module.exports = {
  forbidden: [
    { name: 'no-circles', severity: 'error', from: {}, to: { circular: true } },
    ...layers.slice(0, -1).map((layer, index) => ({
      name: `${layer}-knows-only-what-comes-before`,
      severity: 'error',
      from: { path: `^src/${layer}/` },
      to: { path: `^src/(${layers.slice(index + 1).join('|')})/` },
    })),
    {
      name: 'the-core-is-pure',
      severity: 'error',
      comment: 'No file, network, clock or process below publish.',
      // The writers of documents hand bytes to libraries that need Node; everything before them runs anywhere.
      from: { path: `^src/(${layers.slice(0, layers.indexOf('publish')).join('|')})/` },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'sources-know-no-tests',
      severity: 'error',
      from: { path: '^src/' },
      to: { path: '^(test|bench|app|explorer)/' },
    },
    {
      name: 'the-app-knows-what-runs-in-a-browser',
      severity: 'error',
      from: { path: '^(app|explorer)/' },
      to: { path: '^src/(files|server|cli)/' },
    },
    {
      name: 'the-app-enters-by-the-front-door',
      severity: 'error',
      comment: 'Screens use the public face of a folder, as other folders do.',
      from: { path: '^(app|explorer)/' },
      to: { path: '^src/', pathNot: '/index[.]ts$' },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    doNotFollow: { path: 'node_modules' },
  },
};
