// The one-way order of the source folders, from layers.json. Types count as imports. There is no baseline.
const { pure } = require('./layers.json');

const names = pure.map((layer) => layer.name);
const folder = (name) => (name === 'derive' ? '^src/derive(-panel)?\\.ts$' : `^src/${name}/`);

const upward = names.slice(0, -1).map((name, i) => ({
  name: `${name}-imports-nothing-above-it`,
  severity: 'error',
  comment: `${name} stands below ${names.slice(i + 1).join(', ')}, cli and web: move the shared word down or pass it as an argument.`,
  from: { path: folder(name) },
  to: { path: [...names.slice(i + 1).map(folder), '^src/(cli|web)/', '^src/index\\.ts$'].join('|') },
}));

const doors = names
  .filter((name) => name !== 'derive')
  .map((name) => ({
    name: `${name}-has-one-door`,
    severity: 'error',
    comment: `Other folders reach ${name} through src/${name}/index.ts alone: export what they need there.`,
    from: { path: '^src/', pathNot: folder(name) },
    to: { path: folder(name), pathNot: `^src/${name}/index\\.ts$` },
  }));

module.exports = {
  forbidden: [
    ...upward,
    ...doors,
    {
      name: 'shells-stand-apart',
      severity: 'error',
      comment: 'cli and web are two doors on one core: what both need belongs in the core.',
      from: { path: '^src/cli/' },
      to: { path: '^src/web/' },
    },
    {
      name: 'web-knows-no-cli',
      severity: 'error',
      comment: 'web and cli are two doors on one core: what both need belongs in the core.',
      from: { path: '^src/web/' },
      to: { path: '^src/cli/' },
    },
    {
      name: 'no-cycles',
      severity: 'error',
      comment: 'A cycle means that two files are one idea, or that a word is in the wrong place.',
      from: {},
      to: { circular: true },
    },
    {
      name: 'core-touches-no-machine',
      severity: 'error',
      comment: 'The core is data in, data out: files, processes and the network belong in cli or in the scripts.',
      from: { path: `^src/(${names.join('|')})(/|\\.ts$)`, pathNot: '\\.test\\.ts$' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'core-knows-no-screen',
      severity: 'error',
      comment: 'React and its kin belong in web: the core must run anywhere.',
      from: { path: '^src/', pathNot: '^src/web/' },
      to: { path: 'node_modules/(react|react-dom|react-aria-components|zustand|comlink)/' },
    },
    {
      name: 'zod-only-at-the-file',
      severity: 'error',
      comment: 'The file is checked once, in panel: behind that door types are enough.',
      from: { path: '^src/', pathNot: '^src/(panel|cli)/' },
      to: { path: 'node_modules/zod/' },
    },
    {
      name: 'product-imports-no-tests',
      severity: 'error',
      comment: 'What ships never leans on a test.',
      from: { path: '^src/', pathNot: '\\.test\\.tsx?$' },
      to: { path: '^(tests|bench|scripts)/|\\.test\\.tsx?$' },
    },
    {
      name: 'nothing-unresolved',
      severity: 'error',
      comment: 'Every import must be found.',
      from: {},
      to: { couldNotResolve: true },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
      mainFields: ['module', 'main', 'types'],
    },
  },
};
