import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import tseslint from 'typescript-eslint';
import svelteConfig from './svelte.config.js';

/** Folders of `lib` in the order in which they may lean on one another: a folder imports only from those before it. */
const order = [
  'units',
  'frame',
  'elevation',
  'plan',
  'storm',
  'soil',
  'ground',
  'drainage',
  'basin',
  'setback',
  'siting',
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
  ...order.map((folder, index) => ({
    files: [`lib/${folder}/**/*.ts`],
    rules: {
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            ...outside,
            ...order.slice(index + 1).map((later) => ({
              group: [`../${later}/*`, `../../${later}/*`],
              message: `lib/${folder} comes before lib/${later} and must not lean on it.`,
            })),
          ],
        },
      ],
    },
  })),
  {
    files: ['lib/elevation/**/*-file.ts', 'lib/elevation/node-*.ts'],
    rules: { 'no-restricted-imports': 'off' },
  },
  {
    files: ['src/cli/**/*.ts', 'tests/**/*.{ts,js}', 'fixtures/**/*.ts'],
    rules: { 'no-console': 'off' },
  },
);
