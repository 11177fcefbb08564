import { describe, expect, it } from 'vitest';
import type { BasinDesign, DesignResult } from '../../../../lib/basin/design/design-result';
import type { XY } from '../../../../lib/frame/frame';
import { designedOverflow } from '../../../../lib/setback/water/designed-overflow';

const inMetres = { toLocal: ([x, y]: readonly [number, number]): XY => [x, y] };

/** A design whose overflow runs east, 10 m over the ground, 5 m through a pipe and 10 m over the ground. */
function design(result: 'pass' | 'fail', alongM: number): DesignResult {
  const leg = (by: 'ground' | 'pipe', fromM: number, toM: number) => ({
    ...{ by, drain: null },
    points: Array.from({ length: toM - fromM + 1 }, (_, i) => [fromM + i, 0]),
  });
  const verdict = { result, along_m: alongM, why: 'So.', at: [alongM, 0], feature: null };
  const legs = [leg('ground', 0, 10), leg('pipe', 10, 15), leg('ground', 15, 25)];
  const worked = { id: 'worked', overflow: { ways: [{ ...verdict, legs }], verdict } };
  const basins = [worked as unknown as BasinDesign, { id: 'not', not_dug: 'too steep' }];
  return { basins } as unknown as DesignResult;
}

describe('the way of a designed basin’s overflow', () => {
  it('ends where it may end, and goes on beyond what it must not reach', () => {
    const lastOf = (...asked: Parameters<typeof design>) =>
      designedOverflow(design(...asked), 'worked', inMetres)?.overflowWays?.map((way) =>
        way.at(-1),
      );
    expect(lastOf('pass', 4)).toEqual([[4, 0]]);
    expect(lastOf('pass', 18)).toEqual([
      [10, 0],
      [18, 0],
    ]);
    expect(lastOf('fail', 4)).toEqual([
      [10, 0],
      [25, 0],
    ]);
  });

  it('comes with the design’s verdict, in local metres; none where it cannot be dug', () => {
    const found = designedOverflow(design('fail', 4), 'worked', inMetres);
    expect(found?.overflowVerdict).toMatchObject({ result: 'fail', why: 'So.', at: [4, 0] });
    for (const id of ['not', 'none'])
      expect(designedOverflow(design('pass', 4), id, inMetres)).toBeUndefined();
  });
});
