import { expect, it } from 'vitest';
import { featureName, nameById } from '../../../lib/plan/feature-name';

const called = (id: string, name?: string) =>
  featureName({ id, properties: { kind: 'soil-test', name } });

it.each([
  ['soil-test-3', 'Hole by the oak', 'Hole by the oak'],
  ['soil-test-3', undefined, 'soil test 3'],
  ['hole_east', undefined, 'hole east'],
  ['17', undefined, 'soil test 17'],
  ['6f9619ff-8b86-d011-b42d-00cf4fc964ff', undefined, 'soil test without a name'],
  ['Xk29dkq0PqLw83nZ', undefined, 'soil test without a name'],
  ['--', undefined, 'soil test without a name'],
  ['Grünfläche-2', undefined, 'Grünfläche 2'],
])('%s, named %s, is called %s', (id, name, words) => {
  expect(called(id, name)).toBe(words);
});

it('is found by the id, which stands for itself where there is no such feature', () => {
  const list = [{ id: 'a', properties: { kind: 'tree', name: 'Oak' } }];
  expect(nameById(list, 'a')).toBe('Oak');
  expect(nameById(list, 'b')).toBe('b');
});
