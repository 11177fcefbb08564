import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { figureTable, withTable } from '../../../fixtures/demo/figures';

it('has today’s figures in the README of the demo lot (else run fixtures/demo/write-figures.ts)', async () => {
  const readme = readFileSync(new URL('../../../fixtures/demo/README.md', import.meta.url), 'utf8');
  expect(readme).toBe(withTable(readme, await figureTable()));
});
