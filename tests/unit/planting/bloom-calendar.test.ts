import { describe, expect, it } from 'vitest';
import { bloomCalendar } from '../../../lib/planting/bloom-calendar';
import { readPlantList } from '../../../lib/planting/read-plant-list';
import { starterLists } from '../../../lib/planting/starter-lists';
import { sourceLine } from '../../../lib/source';

const head = 'name,zone,spread,height,bloom,sun,native to';
const read = (...lines: readonly string[]) =>
  readPlantList([head, ...lines].join('\n'), 'own.csv', 'metric');

describe('a list of plants', () => {
  it('is read with its units, zones by any of their names, blooms in words', () => {
    const plants = read(
      'Iris versicolor,wet,60 cm,2-3 ft,Jun-Jul,sun,here',
      'Dalea purpurea,Rim,0.4,50,,,',
      'Juncus effusus,1,24 in,60-120 cm,11-2,,',
    );
    expect(plants.map(({ zone }) => zone)).toEqual(['deep', 'edge', 'deep']);
    expect(plants[0].heightM[1]).toBeCloseTo(0.9144, 9);
    expect(plants[0].bloom).toEqual([6, 7]);
    expect(plants[1]).toMatchObject({ bloom: null, spreadM: 0.4, sources: null });
    expect(plants[2].heightM[0]).toBeCloseTo(0.6, 9);
  });

  it('is refused in one sentence with its line', () => {
    expect(() => readPlantList('plant name,room\nx,1', 'own.csv', 'us')).toThrow(
      /^own\.csv, line 1: a list of plants has no column 'name', 'zone', 'spread'/,
    );
    expect(() => read('Iris,pond,60 cm')).toThrow(/line 2: 'pond' is no zone of a basin; use/);
    expect(() => read('Iris,wet,60 m')).toThrow(/a spread of '60 m' is no plant's/);
    expect(() => read('Iris,wet,wide')).toThrow(/^own\.csv, line 2: /);
    expect(() => read('Iris,wet,60 cm,,when warm')).toThrow(/'when warm' are no months/);
    expect(() => read(',wet,60 cm')).toThrow(/has no name/);
  });
});

describe('a bloom calendar', () => {
  it('names the months in which nothing blooms, and runs over the end of a year', () => {
    const { rows, gaps, unknown } = bloomCalendar(
      read('A,wet,60 cm,,Apr-May', 'B,wet,60 cm,,Aug', 'C,wet,60 cm,,Nov-Jan', 'D,wet,60 cm'),
    );
    expect(gaps).toEqual(['Feb', 'Mar', 'Jun', 'Jul', 'Sep', 'Oct']);
    expect(rows[2].months.flatMap((blooms, i) => (blooms ? [i + 1] : []))).toEqual([1, 11, 12]);
    expect(unknown).toEqual(['D']);
  });
});

describe('starter lists', () => {
  it('have plants for every zone, each figure with a mark, and species names', () => {
    for (const { plants } of starterLists) {
      expect(new Set(plants.map(({ zone }) => zone)).size).toBe(3);
      for (const { name, sources, nativeTo } of plants) {
        expect(name).toMatch(/^[A-Z][a-z]+ [a-z-]+$/);
        expect(nativeTo).toMatch(/from memory/);
        for (const source of Object.values(sources ?? {})) {
          expect(sourceLine(source)).toMatch(/\((seen|seen in a secondary copy|from memory)\)$/);
        }
      }
    }
  });
});
