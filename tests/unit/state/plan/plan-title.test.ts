import { expect, it } from 'vitest';
import { emptyPlan } from '../../../../src/app/state/files/files.svelte';
import { fileStem } from '../../../../src/app/state/plan/plan-title';

it.each([
  ['Marl Hollow 12', 'marl-hollow-12'],
  ['Żółta 7/2', 'żółta-7-2'],
  ['水辺の庭', '水辺の庭'],
  ['हरी गली', 'हरी-गली'],
  ['../../etc: <b>', 'etc-b'],
  ['!!', 'lot'],
])('a file is named after the plan %s', (name, stem) => {
  expect(fileStem({ ...emptyPlan, lotfall: { ...emptyPlan.lotfall, name } })).toBe(stem);
});
