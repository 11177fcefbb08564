import { posix } from 'node:path';
import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import tseslint from 'typescript-eslint';
import svelteConfig from './svelte.config.js';

/** Folders of `lib` in the order in which they may lean on one another: a folder imports only from those before it. */
const order = [
  'units',
  'frame',
  'drawing',
  'elevation',
  'plan',
  'levels',
  'storm',
  'tables',
  'soil',
  'gather',
  'ground',
  'drainage',
  'basin',
  'setback',
  'siting',
  'remedies',
  'review',
  'paper',
  'planting',
  'handover',
  'sheet',
];

/** Rooms of folders that have them, in the same order. */
const rooms = {
  elevation: ['bytes', 'system', 'file', 'window', 'picture', 'writing'],
  drainage: ['terrain', 'storm', 'height-error', 'answer', 'certainty'],
  basin: ['form', 'filling', 'overflow', 'sizing', 'design'],
  setback: ['measure', 'rules', 'sets', 'locate', 'judge', 'water', 'submission'],
  siting: ['water', 'refused', 'leading', 'sizing', 'joint', 'search', 'answer'],
  sheet: [
    'drawing',
    'write',
    'lettering',
    'paper',
    'facts',
    'setting-out',
    'views',
    'pages',
    'packet',
  ],
};

/** Rooms of the page in the same order. */
const appRooms = [
  'look',
  'offline',
  'worker',
  'state/tasks',
  'state/plan',
  'state/session',
  'state/answers',
  'state/drawing',
  'state/files',
  'state/guide',
  'state',
  'map/images',
  'map/layers',
  'map/hands',
  'map/overlay',
  'map',
  'questions',
  'questions/charts',
  'questions/here/soil',
  'questions/here',
  'questions/water/storm',
  'questions/water/remedies',
  'questions/water',
  'questions/place/rules',
  'questions/place',
  'questions/dig/charts',
  'questions/dig/section',
  'questions/dig',
  'questions/handover',
  'begin',
  'ledger',
  'sheet',
];

/** The rooms of the command line, in the order in which they may lean on each other. */
const cliRooms = [
  'reading',
  'writing',
  'paper',
  'plan',
  'water',
  'garden',
  'rules',
  'lots',
  'handover',
];

const outside = [
  {
    group: ['**/src/**', 'svelte', 'svelte/*', 'maplibre-gl', 'terra-draw*', 'comlink', 'idb'],
    message: 'lib knows neither face of the project.',
  },
  { group: ['node:*'], message: 'Only the named reading and writing edges of lib may call Node.' },
];

const browserOnly = [
  'window',
  'document',
  'navigator',
  'localStorage',
  'sessionStorage',
  'self',
  'process',
];

/** What the files of a folder, and of its rooms, must not import: what comes after them. */
function floorRules(folder, later) {
  const above = (depth) =>
    later.map((name) => ({
      group: [`${'../'.repeat(depth)}${name}/**`],
      message: `lib/${folder} comes before lib/${name} and must not lean on it.`,
    }));
  const rule = (files, patterns) => ({
    files,
    rules: { 'no-restricted-imports': ['error', { patterns: [...outside, ...patterns] }] },
  });
  const inside = rooms[folder] ?? [];
  return [
    rule([`lib/${folder}/*.ts`], above(1)),
    rule([`lib/${folder}/*/**/*.ts`], above(2)),
    ...inside.map((room, at) =>
      rule(
        [`lib/${folder}/${room}/*.ts`],
        [
          ...above(2),
          ...inside.slice(at + 1).map((name) => ({
            group: [`../${name}/*`],
            message: `lib/${folder}/${room} comes before lib/${folder}/${name} and must not lean on it.`,
          })),
        ],
      ),
    ),
  ];
}

/** What the files of a room of the page must not import: the rooms after it, and the command. */
function appRule(room, index) {
  const to = (name) =>
    `^${posix
      .relative(room, name)
      .replace(/^(?!\.)/, './')
      .replaceAll('.', '\\.')}/[^/]+$`;
  const later = appRooms.slice(index + 1).map((name) => ({
    regex: to(name),
    message: `src/app/${room} comes before src/app/${name} and must not lean on it.`,
  }));
  return {
    files: [`src/app/${room}/*.ts`, `src/app/${room}/*.svelte`],
    rules: { 'no-restricted-imports': ['error', { patterns: [...later, otherFace('cli')] }] },
  };
}

/** What the files of a room of the command line must not import: the rooms after it, and the page. */
function cliRule(room, index) {
  const later = cliRooms.slice(index + 1).map((name) => ({
    group: [`../${name}/*`],
    message: `src/cli/${room} comes before src/cli/${name} and must not lean on it.`,
  }));
  return {
    files: [`src/cli/${room}/*.ts`],
    rules: { 'no-restricted-imports': ['error', { patterns: [...later, otherFace('app')] }] },
  };
}

/** The two faces do not know each other. */
function otherFace(name) {
  return { group: [`**/${name}/**`], message: 'src/app and src/cli do not know each other.' };
}

export default tseslint.config(
  { ignores: ['dist/', 'node_modules/', '.cache/'] },
  js.configs.recommended,
  ...tseslint.configs.strictTypeChecked,
  ...svelte.configs.recommended,
  {
    languageOptions: {
      globals: { ...globals.node },
      parserOptions: {
        projectService: { allowDefaultProject: ['eslint.config.js', 'svelte.config.js'] },
        extraFileExtensions: ['.svelte'],
      },
    },
    rules: {
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/consistent-type-imports': 'error',
      // Indexing is typed without `undefined` (see tsconfig.json), so a guard on it looks needless to this rule.
      '@typescript-eslint/no-unnecessary-condition': 'off',
      '@typescript-eslint/no-non-null-assertion': 'off',
      eqeqeq: 'error',
      'no-console': 'error',
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: {
      globals: { ...globals.browser },
      parserOptions: { parser: tseslint.parser, svelteConfig },
    },
  },
  {
    files: ['**/*.svelte'],
    // Types in markup are svelte-check's business: the linter sees `any` where a block binds a name.
    rules: {
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
      '@typescript-eslint/no-confusing-void-expression': 'off',
    },
  },
  // Plain Map, Set and URL are meant where nothing on the page has to follow them.
  { files: ['**/*.svelte', '**/*.svelte.ts'], rules: { 'svelte/prefer-svelte-reactivity': 'off' } },
  { files: ['**/*.js'], ...tseslint.configs.disableTypeChecked },
  {
    files: ['lib/**/*.ts'],
    rules: {
      'no-restricted-imports': ['error', { patterns: outside }],
      'no-restricted-globals': ['error', ...browserOnly],
    },
  },
  ...appRooms.map(appRule),
  {
    files: ['src/cli/**/*.ts'],
    rules: { 'no-restricted-imports': ['error', { patterns: [otherFace('app')] }] },
  },
  ...cliRooms.map(cliRule),
  ...order.flatMap((folder, index) => floorRules(folder, order.slice(index + 1))),
  {
    files: ['lib/elevation/**/*-file.ts', 'lib/elevation/bytes/node-*.ts'],
    rules: { 'no-restricted-imports': 'off' },
  },
  {
    files: ['src/cli/**/*.ts', 'tests/**/*.{ts,js}', 'fixtures/**/*.ts'],
    rules: { 'no-console': 'off' },
  },
);
