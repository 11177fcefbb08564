import { expect, it } from 'vitest';
import type { StateFigure } from '../../../../lib/drainage/answer/two-states';
import { figureKey } from '../../../../lib/drainage/answer/two-states';
import {
  changeText,
  figureWords,
  madeWorse,
  stateRows,
} from '../../../../lib/drainage/certainty/state-words';
import { box, planOf, polygonOf } from '../../ground/plane-lot';

const { plan } = planOf([
  polygonOf('own', box(0, 0, 9, 9), { kind: 'lot', own: true, name: 'Ours' }),
  polygonOf('below', box(9, 0, 18, 9), { kind: 'lot', own: false, name: 'Below' }),
  polygonOf('house', box(2, 2, 5, 5), { kind: 'building', name: 'House' }),
]);
const wall: StateFigure = { about: 'at-wall', id: 'house', unit: 'm', before: 0, after: 0.08 };
const sent: StateFigure = {
  about: 'exchange',
  id: 'own',
  to: 'below',
  unit: 'm3',
  before: 1,
  after: 3,
};
const street: StateFigure = { ...sent, to: null, after: 9 };
const soaked: StateFigure = { about: 'soaked', id: null, unit: 'm3', before: 5, after: 4 };

it('names who is made worse: wetter walls first, then lots that get more, and no street', () => {
  const rows = stateRows([sent, street, soaked, wall], null);
  expect(madeWorse(rows, plan, 'metric')).toEqual([
    '8 cm at the wall of House, where none stands today',
    'Below gets 2.0 m³ more from Ours',
  ]);
});

it('calls a change the same that is smaller than its doubt, and puts it last', () => {
  const doubts = new Map([
    [figureKey(wall), { lowest: -0.02, highest: 0.2 }],
    [figureKey(sent), { lowest: 1, highest: 3 }],
  ]);
  const rows = stateRows([wall, sent], doubts);
  expect(rows.map(({ figure, change }) => [figure.about, change])).toEqual([
    ['exchange', 'more'],
    ['at-wall', 'same'],
  ]);
  expect(madeWorse(rows, plan, 'metric')).toEqual(['Below gets 2.0 m³ more from Ours']);
  const hardly = { ...wall, before: 0.1, after: 0.103 };
  expect(stateRows([hardly], null)[0].change).toBe('same');
});

it('writes changes with their sign, and nothing as nothing', () => {
  expect(changeText(-1, soaked, 'metric')).toBe('−1.0 m³');
  expect(changeText(0.08, wall, 'metric')).toBe('+8 cm');
  expect(changeText(-1e-9, soaked, 'metric')).not.toMatch(/[+−]/);
  expect(figureWords(street, plan)).toBe('Ours to street and other ground');
});
