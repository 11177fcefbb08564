import { describe, expect, it } from 'vitest';
import { hydrologicGroup } from '../../../lib/soil/hydrologic-group';
import { soilSeparation, separationText } from '../../../lib/soil/separation';
import { soilTestIn } from './soil-test';

const micro = 1e-6;

describe('the hydrologic soil group', () => {
  // National Engineering Handbook 630, table 7-1 (seen in secondary copies): lower limits are exclusive.
  it.each([
    [10.1, 'A'],
    [10, 'B'],
    [4.1, 'B'],
    [4, 'C'],
    [0.41, 'C'],
    [0.4, 'D'],
  ])('of deep soil at %f µm/s is %s', (rate, group) => {
    const found = hydrologicGroup({
      conductivityMPerS: rate * micro,
      limitingLayerM: 1.2,
      waterTableM: 2,
    });
    expect(found).toMatchObject({ group, dual: null, atBest: null });
  });

  it.each([
    [40.1, 'A'],
    [40, 'B'],
    [10.1, 'B'],
    [10, 'C'],
    [1.1, 'C'],
    [1, 'D'],
  ])('above a layer or water within a metre at %f µm/s is %s', (rate, group) => {
    const conductivityMPerS = rate * micro;
    expect(hydrologicGroup({ conductivityMPerS, limitingLayerM: 0.8 }).group).toBe(group);
    expect(hydrologicGroup({ conductivityMPerS, waterTableM: 0.8 }).group).toBe(group);
  });

  it('is D above a layer within 50 cm, however fast the soil', () => {
    expect(hydrologicGroup({ conductivityMPerS: 1e-3, limitingLayerM: 0.49 })).toMatchObject({
      group: 'D',
      dual: null,
    });
  });

  it('is dual where water stands within 60 cm', () => {
    const drained = (rate: number, limitingLayerM?: number) =>
      hydrologicGroup({
        conductivityMPerS: rate * micro,
        waterTableM: 0.4,
        ...(limitingLayerM === undefined ? {} : { limitingLayerM }),
      });
    expect(drained(5, 1.2)).toMatchObject({ group: 'D', dual: 'B/D' });
    expect(drained(5, 0.8)).toMatchObject({ group: 'D', dual: 'C/D' });
    // a layer may lie within a metre: the slower
    expect(drained(5)).toMatchObject({ group: 'D', dual: 'C/D' });
    expect(drained(0.1, 1.2).dual).toBeNull();
  });

  it('is the slower one, with the other beside it, while depths are unknown', () => {
    expect(hydrologicGroup({ conductivityMPerS: 12 * micro })).toMatchObject({
      group: 'B',
      atBest: 'A',
    });
    expect(hydrologicGroup({ conductivityMPerS: 12 * micro, waterTableM: 3 }).why).toBe(
      'it is not known whether a layer that holds water up lies within a metre',
    );
  });
});

describe('the distance to water and rock', () => {
  const footM = 0.3048;
  const results = (bottomM: number, waterM: number, rockM: number) =>
    soilSeparation(bottomM, { water_table_m: waterM, rock_m: rockM }, []).map(
      ({ result }) => result,
    );

  it('passes at 3 ft, asks between 2 and 3 ft to water, and fails below', () => {
    expect(results(footM, 4 * footM, 4 * footM)).toEqual(['pass', 'pass']);
    expect(results(footM, 3.5 * footM, 3.5 * footM)).toEqual(['check', 'fail']);
    expect(results(footM, 2.9 * footM, 0.5 * footM)).toEqual(['fail', 'fail']);
  });

  it('is not known without a depth, and says how to find it', () => {
    const [water, rock] = soilSeparation(0.5, undefined, []);
    expect([water.result, water.actualM]).toEqual(['check', null]);
    expect(separationText(water, 'us')).toContain('look-hole of 3 ft (0.9 m)');
    expect(separationText(rock, 'us')).toContain('rock is not known');
  });

  it('takes the shallowest that a test met before the plan’s own figure', () => {
    const tests = [1.5, 1.1].map((water_table_m) => soilTestIn([], { water_table_m }));
    expect(soilSeparation(0.3, { water_table_m: 0.4 }, tests)[0].depthM).toBe(1.1);
  });

  it('says in words what is missed', () => {
    const text = (waterM: number) =>
      separationText(soilSeparation(0.3, { water_table_m: waterM }, [])[0], 'metric');
    expect(text(2)).toContain('enough by every rule');
    expect(text(1.05)).toContain('Minnesota');
    expect(text(1.05)).toContain('the local rule decides');
    expect(text(0.2)).toContain('10 cm into the seasonal high water');
  });
});
