import fc from 'fast-check';
import { expect, it } from 'vitest';
import { linePlaces } from '../../../lib/drainage/answer/line-places';

const at = (atM: number, volumeM3: number, peakM3PerH: number | null = volumeM3) => ({
  atM,
  volumeM3,
  peakM3PerH,
});

it('tells a stream from the film beside it, over the end of the line as well', () => {
  const film = Array.from({ length: 40 }, (_, i) => at(i + 0.5, 0.01));
  const places = linePlaces([...film, at(39.5, 3), at(0.5, 2), at(20.5, 4)], 40, 1);
  expect(places.map(({ atM, widthM }) => [atM, widthM])).toEqual([
    [20.5, 1],
    [0, 2],
    [null, 37],
  ]);
  expect(places[1].volumeM3).toBeCloseTo(5.02, 12);
  expect(places[2].volumeM3).toBeCloseTo(0.37, 12);
});

it('knows no peak of a stretch of which a part has none', () => {
  const [one, other] = linePlaces([at(3.5, 2, null), at(3.6, 1), at(9.5, 1)], 12, 1);
  expect(one.peakM3PerH).toBeNull();
  expect(other.peakM3PerH).toBe(1);
});

it('loses nothing, whatever crosses where', () => {
  const crossing = fc.record({
    atM: fc.double({ min: 0, max: 50, noNaN: true }),
    volumeM3: fc.double({ min: 0.001, max: 10, noNaN: true }),
    peakM3PerH: fc.double({ min: 0, max: 10, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(crossing, { maxLength: 60 }), (crossings) => {
      const places = linePlaces(crossings, 50, 1);
      const sum = (of: (row: { volumeM3: number; peakM3PerH: number | null }) => number) => [
        crossings.reduce((total, row) => total + of(row), 0),
        places.reduce((total, row) => total + of(row), 0),
      ];
      for (const of of [
        (row: { volumeM3: number }) => row.volumeM3,
        (row: { peakM3PerH: number | null }) => row.peakM3PerH ?? NaN,
      ]) {
        const [given, found] = sum(of);
        expect(found).toBeCloseTo(given, 9);
      }
      expect(places.reduce((wide, { widthM }) => wide + widthM, 0)).toBeLessThanOrEqual(50 + 1e-9);
    }),
    { numRuns: 200, seed: 3 },
  );
});
