import { describe, expect, it } from 'vitest';
import { cellAt } from '../../../lib/elevation/grid';
import { ground } from '../../../lib/ground/ground';
import { pipeCapacityM3PerS } from '../../../lib/ground/pipe-capacity';
import { groundOf, lineOf, planOf, pointOf } from './plane-lot';

describe('the capacity of a pipe that runs full', () => {
  it('is what Manning gives: 100 mm at 1 %, n 0.013', () => {
    // A = 0.00785398 m2, R = 0.025 m, R^(2/3) = 0.0854988, S^(1/2) = 0.1: V = 0.657683 m/s.
    expect(pipeCapacityM3PerS(0.1, 0.01, 0.013)).toBeCloseTo(0.00785398 * 0.657683, 7);
  });

  it('grows with the power 8/3 of the diameter and the root of the slope', () => {
    const one = pipeCapacityM3PerS(0.1, 0.01);
    expect(pipeCapacityM3PerS(0.2, 0.01) / one).toBeCloseTo(2 ** (8 / 3), 9);
    expect(pipeCapacityM3PerS(0.1, 0.04) / one).toBeCloseTo(2, 9);
    expect(pipeCapacityM3PerS(0.1, 0)).toBe(0);
  });
});

describe('conduits laid in the ground', () => {
  /** Falls 2 % to the east. */
  const slope = () => groundOf(40, 20, 0.5, (x) => 5 - 0.02 * x);
  const line = (id: string, fromX: number, toX: number, more: object = {}) =>
    lineOf(
      id,
      [
        [fromX, 10.2],
        [toX, 10.2],
      ],
      { kind: 'drain-pipe', ...more },
    );

  it('have the fall of the ground between their ends, and an inlet lower than all around it', () => {
    const { conduits, grid } = ground(slope(), planOf([line('p', 5.2, 25.2)]));
    const [pipe] = conduits;
    expect(pipe.capacityM3PerS).toBeCloseTo(pipeCapacityM3PerS(0.1, 0.02), 5);
    expect(pipe.outlet).toBe(cellAt(grid, 25.2, 10.2));
    for (const step of [-1, 1, -grid.width, grid.width]) {
      expect(grid.z[pipe.inlet]).toBeLessThan(grid.z[pipe.inlet + step]);
    }
  });

  it('run to the lower end, however the pipe is drawn', () => {
    const { conduits, edits, grid } = ground(slope(), planOf([line('p', 25.2, 5.2)]));
    expect(conduits[0].outlet).toBe(cellAt(grid, 25.2, 10.2));
    expect(edits[0].notes.join()).toMatch(/run the other way/);
  });

  it('are closed at the upper end where a downspout or a yard drain leads in', () => {
    const drain = pointOf('d', [12.2, 4.2], { kind: 'yard-drain', pipe: 'p' });
    const { conduits } = ground(slope(), planOf([line('p', 5.2, 25.2), drain]));
    expect(conduits.map(({ id, pipe }) => [id, pipe])).toEqual([['d', 'p']]);
  });

  it('do not carry uphill', () => {
    const frameOf = planOf([]).frame;
    const drain = pointOf('d', [30.2, 10.2], {
      kind: 'yard-drain',
      outlet: frameOf.toLngLat([5.2, 10.2]),
    });
    const { conduits, edits } = ground(slope(), planOf([drain]));
    expect(conduits[0].capacityM3PerS).toBe(0);
    expect(edits[0].notes.join()).toMatch(/not lower than the drain/);
  });

  it('leave the ground alone and carry nothing when blocked', () => {
    const before = slope();
    const { conduits, grid } = ground(before, planOf([line('p', 5.2, 25.2, { blocked: true })]));
    expect(grid.z).toEqual(before.z);
    expect(conduits[0].blocked).toBe(true);
  });

  it('carry nothing when nothing tells where they lead', () => {
    const drain = pointOf('d', [30.2, 10.2], { kind: 'yard-drain' });
    const { conduits, edits } = ground(slope(), planOf([drain]));
    expect(conduits[0].capacityM3PerS).toBe(0);
    expect(edits[0].notes.join()).toMatch(/Nothing tells where it empties/);
  });

  it('name a pipe that is not there without breaking', () => {
    const drain = pointOf('d', [30.2, 10.2], { kind: 'yard-drain', pipe: 'gone' });
    expect(ground(slope(), planOf([drain])).edits[0].notes.join()).toMatch(/not in the plan/);
  });
});
