import { expect, it } from 'vitest';
import { shareText } from '../../../../lib/basin/form/share-text';

it('writes a share whole, but neither all nor nothing where a little is missing or left', () => {
  expect([0, 0.001, 0.25, 0.994, 0.9996, 1].map(shareText)).toEqual([
    '0 %',
    'under 1 %',
    '25 %',
    '99 %',
    '99.9 %',
    '100 %',
  ]);
});
