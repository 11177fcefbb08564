import { describe, expect, it } from 'vitest';
import { settleMarks, type TiedPlace } from '../../../lib/levels/marks';

const place = (
  name: string,
  elevationM: number | null,
  ties: Readonly<Record<string, number>>,
  accuracyM = 0.002,
): TiedPlace => ({
  name,
  elevationM,
  accuracyM,
  ties: Object.entries(ties).map(([mark, dropM]) => ({ mark, dropM })),
});

/** A loop of three set-ups from a bench mark and back, 6 mm short. */
const loop = (lastM: number): TiedPlace[] => [
  place('bench', 10, { A: 1.5, C: lastM }),
  place('peg 1', null, { A: 1.2, B: 1.1 }),
  place('peg 2', null, { B: 1.6, C: 1.45 }),
  place('puddle', null, { B: 1.9 }),
];

describe('a line of levelling', () => {
  it('goes on from mark to mark over the places read from both', () => {
    const { marksM, closings } = settleMarks(
      [place('bench', 10, { A: 1.5 }), place('peg', null, { A: 1.2, B: 1.1 })],
      'yard',
    );
    expect(marksM.get('A')).toBeCloseTo(11.5, 9);
    expect(marksM.get('B')).toBeCloseTo(11.4, 9);
    expect(closings).toEqual([]);
  });

  it('begins at its first mark where no height is given', () => {
    const { marksM } = settleMarks([place('peg', null, { A: 1.2, B: 1.1 })], 'yard');
    expect([marksM.get('A'), marksM.get('B')]).toEqual([0, expect.closeTo(-0.1, 9)]);
  });

  it('shares the closing error of a loop evenly among its set-ups', () => {
    // By hand: 11.500, 11.400, 11.250, back at 9.994; 2 mm for each set-up lifts the pegs by 2 and 4 mm.
    const { marksM, closings } = settleMarks(loop(1.256), 'yard');
    expect(closings).toHaveLength(1);
    expect(Math.abs(closings[0].errorM)).toBeCloseTo(0.006, 9);
    expect(closings[0].setUps).toBe(3);
    const height = (mark: string, dropM: number): number => (marksM.get(mark) ?? 0) - dropM;
    expect((height('A', 1.2) + height('B', 1.1)) / 2).toBeCloseTo(10.302, 9);
    expect((height('B', 1.6) + height('C', 1.45)) / 2).toBeCloseTo(9.804, 9);
    expect(height('B', 1.9)).toBeCloseTo(9.503, 9);
  });

  it('closes exactly without a change', () => {
    const { marksM, closings } = settleMarks(loop(1.25), 'yard');
    expect(closings[0].errorM).toBeCloseTo(0, 9);
    expect(marksM.get('C')).toBeCloseTo(11.25, 9);
  });

  it('is refused where it does not close by more than its readings bear', () => {
    expect(() => settleMarks(loop(1.35), 'yard')).toThrow(
      /yard, .*: the levelling that comes back there misses by 10\.0 cm over 3 set-ups, and its readings bear 1\.5 cm/,
    );
  });

  it('is refused where two given heights and one mark do not agree', () => {
    const places = [place('step', 10, { A: 1.5 }, 0.01), place('kerb', 9, { A: 2.6 }, 0.01)];
    expect(() => settleMarks(places, 'yard')).toThrow(/misses by 10\.0 cm/);
  });

  it('is refused where nothing ties a mark to the rest', () => {
    const places = [place('bench', 10, { A: 1.5 }), place('peg', null, { B: 1.2 })];
    expect(() => settleMarks(places, 'yard')).toThrow(/two zeros.*‘B’/);
  });
});
