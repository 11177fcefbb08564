import { describe, expect, it } from 'vitest';
import { designRateTable, rateTables, tableRateMPerS } from '../../../lib/soil/design-rates';
import {
  feelQuestions,
  firstFeelQuestion,
  type FeelQuestionId,
} from '../../../lib/soil/texture-by-feel';
import {
  drainedSaturation,
  textureParameters,
  usdaTextures,
} from '../../../lib/soil/texture-table';
import { textureOf } from '../../../lib/soil/texture-triangle';
import { inPerH } from './soil-test';

describe('texture by particles', () => {
  // The middles of the classes as the triangle is usually drawn.
  it.each([
    [92, 5, 3, 'sand'],
    [82, 12, 6, 'loamy-sand'],
    [58, 32, 10, 'sandy-loam'],
    [43, 39, 18, 'loam'],
    [17, 70, 13, 'silt-loam'],
    [7, 87, 6, 'silt'],
    [58, 15, 27, 'sandy-clay-loam'],
    [32, 34, 34, 'clay-loam'],
    [10, 56, 34, 'silty-clay-loam'],
    [52, 6, 42, 'sandy-clay'],
    [6, 47, 47, 'silty-clay'],
    [22, 20, 58, 'clay'],
    [100, 0, 0, 'sand'],
    [0, 100, 0, 'silt'],
    [0, 0, 100, 'clay'],
  ] as const)('%f sand, %f silt, %f clay is %s', (sand, silt, clay, texture) => {
    expect(textureOf({ sand, silt, clay })).toBe(texture);
  });

  it('refuses what does not add up, and shares below zero', () => {
    expect(() => textureOf({ sand: 40, silt: 40, clay: 30 })).toThrow('add up to 110 %');
    expect(() => textureOf({ sand: 110, silt: -20, clay: 10 })).toThrow('below zero');
    expect(() => textureOf({ sand: Number.NaN, silt: 50, clay: 50 })).toThrow();
  });
});

describe('texture by feel', () => {
  it('comes to an end on every path, in at most four questions, and reaches all but silt', () => {
    const reached = new Set<string>();
    const walk = (id: FeelQuestionId, asked: number): void => {
      expect(asked).toBeLessThanOrEqual(4);
      for (const { then } of feelQuestions[id].answers) {
        if ('texture' in then) reached.add(then.texture);
        else walk(then.ask, asked + 1);
      }
    };
    walk(firstFeelQuestion, 1);
    expect([...reached].sort()).toEqual(usdaTextures.filter((name) => name !== 'silt').sort());
  });

  it('calls a long smooth ribbon silty clay and a ball that falls apart sand', () => {
    const long = feelQuestions['grit-long'].answers.find(({ say }) => say.startsWith('smooth'));
    expect(long?.then).toEqual({ texture: 'silty-clay' });
    expect(feelQuestions.ball.answers[0].then).toEqual({ texture: 'sand' });
  });
});

describe('the texture tables', () => {
  it('leave room in the pores of every drained soil', () => {
    for (const texture of usdaTextures) {
      expect(drainedSaturation(texture)).toBeGreaterThan(0);
      expect(drainedSaturation(texture)).toBeLessThan(0.8);
      const { porosity, effectivePorosity } = textureParameters(texture);
      expect(effectivePorosity).toBeLessThan(porosity);
    }
  });

  it('take for silty clay the porosity that its residual water confirms', () => {
    expect(textureParameters('silty-clay').porosity).toBe(0.479);
  });

  it('take rates from the one table that was read, in a copy', () => {
    expect(designRateTable.source.mark).toBe('seen in a secondary copy');
    expect(rateTables.filter(({ source }) => source.mark !== 'from memory')).toEqual([
      designRateTable,
    ]);
    expect(inPerH(tableRateMPerS(designRateTable, 'sandy-loam'))).toBeCloseTo(0.8, 9);
    expect(inPerH(tableRateMPerS(designRateTable, 'silt'))).toBeCloseTo(0.3, 9);
  });
});
