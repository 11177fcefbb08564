import { expect, it } from 'vitest';
import { isBlank, type OnSheet } from '../../../src/app/begin/is-blank';
import { ways, wayOf } from '../../../src/app/begin/ways';
import { emptyPlan } from '../../../src/app/state/files/files.svelte';
import { box, planOf, polygonOf } from '../ground/plane-lot';

const blank: OnSheet = { plan: emptyPlan, hasGround: false, tool: 'edit', hasMore: false };

it('asks only while nothing is on the sheet and nothing is being put there', () => {
  expect(isBlank(blank)).toBe(true);
  const { plan } = planOf([polygonOf('lot', box(0, 0, 9, 9), { kind: 'lot', own: true })]);
  expect(isBlank({ ...blank, plan })).toBe(false);
  expect(isBlank({ ...blank, hasGround: true })).toBe(false);
  expect(isBlank({ ...blank, tool: { draw: 'lot' } })).toBe(false);
  expect(isBlank({ ...blank, tool: 'lay' })).toBe(false);
  expect(isBlank({ ...blank, hasMore: true })).toBe(false);
});

it('finds each way by its letter, in either case, and no other', () => {
  expect(ways.map(({ letter }) => wayOf(letter))).toEqual(ways.map(({ name }) => name));
  expect(wayOf('c')).toBe('string');
  expect(wayOf('e')).toBeNull();
  expect(wayOf('Tab')).toBeNull();
});

it('says of every way how sure it is, and where that comes from', () => {
  for (const { name, sure } of ways) {
    const isMeasured = name === 'file' || name === 'string';
    expect(/\(seen|no source/.test(sure('us'))).toBe(isMeasured);
  }
});
