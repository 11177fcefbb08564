import { describe, expect, it } from 'vitest';
import { areaBeyondM2, bowlStorage, insetAreas } from '../../../../lib/basin/form/bowl-storage';
import { fillAndDrain } from '../../../../lib/basin/filling/fill-and-drain';
import {
  areaForShare,
  basinAt,
  depthForShare,
  largestHeldMm,
  sizeBounds,
  tryBowl,
  type SizingTask,
} from '../../../../lib/basin/sizing/sizing';
import { sizeBothWays } from '../../../../lib/basin/sizing/size-both-ways';
import { nothingWorks, slowSoilRemedies } from '../../../../lib/basin/sizing/slow-soil';
import { areaAt, volumeAt } from '../../../../lib/basin/form/stage-storage';
import { cubicFootM3, footM } from '../../../../lib/units/units';
import { box } from '../../ground/plane-lot';
import { inflow, layer, mmPerH, oneStorm, weirC } from '../made-basins';

const rectangle = insetAreas(box(0, 0, 20 * footM, 10 * footM));

describe('a bowl from its outline', () => {
  it('20 ft by 10 ft, 6 in deep, 3:1: 79.0 ft3 after the prismoidal formula', () => {
    const storage = bowlStorage(rectangle, {
      areaM2: rectangle.areaM2,
      pondingDepthM: footM / 2,
      freeboardM: 0,
      sideSlope: 3,
    });
    expect(volumeAt(storage, footM / 2) / cubicFootM3).toBeCloseTo(79.0, 0);
    // floor of 17 ft by 7 ft
    expect(areaAt(storage, 0) / footM ** 2 / 119).toBeCloseTo(1, 2);
  });

  it('shrinks inwards as a rectangle does', () => {
    for (const inM of [0.1, 0.4, 1, 1.4]) {
      const exact = (20 * footM - 2 * inM) * (10 * footM - 2 * inM);
      expect(Math.abs(areaBeyondM2(rectangle, inM) - exact)).toBeLessThan(0.004 * rectangle.areaM2);
    }
    expect(areaBeyondM2(rectangle, 5 * footM)).toBe(0);
  });

  it('scales by area, and ends where its sides meet', () => {
    const deep = { areaM2: 2, pondingDepthM: 1, freeboardM: 0.05, sideSlope: 3 };
    const storage = bowlStorage(rectangle, deep);
    expect(storage.areasM2.at(-1)).toBeCloseTo(2, 6);
    // half of 1 m of width at 3:1
    expect(storage.depthsM.at(-1)).toBeCloseTo(1 / 6, 2);
    expect(storage.areasM2[0]).toBeLessThan(0.02);
  });
});

/** Ground and a roof above a basin of 12 m2 on a silty soil. */
function task(changes: Partial<SizingTask> = {}): SizingTask {
  return {
    outline: rectangle,
    bowl: { areaM2: 12, pondingDepthM: 0.15, freeboardM: 0.05, sideSlope: 3 },
    layers: [layer(0.3, 0.45, 0.14, 30)],
    subsoil: { conductivityMPerS: 8 * mmPerH, suctionM: 0, deficit: 0 },
    notch: { coefficient: weirC, widthM: 1 },
    inflow: oneStorm(4, 40, 6),
    ...changes,
  };
}

describe('solving for the unknown', () => {
  it('the least area that captures a share: a little less does not', () => {
    for (const share of [0.5, 0.9, 1]) {
      const areaM2 = areaForShare(task(), share) ?? NaN;
      expect(tryBowl(task(), { areaM2 }).capturedShare).toBeGreaterThanOrEqual(share);
      expect(tryBowl(task(), { areaM2: areaM2 * 0.99 }).capturedShare).toBeLessThan(share);
    }
  });

  it('the least depth likewise, and none where even the deepest overflows', () => {
    const wide = task({ bowl: { ...task().bowl, areaM2: 18 } });
    const pondingDepthM = depthForShare(wide, 0.95) ?? NaN;
    expect(pondingDepthM).toBeGreaterThan(0.02);
    expect(pondingDepthM).toBeLessThan(sizeBounds.pondingDepthM[1]);
    expect(tryBowl(wide, { pondingDepthM }).capturedShare).toBeGreaterThanOrEqual(0.95);
    expect(tryBowl(wide, { pondingDepthM: pondingDepthM * 0.98 }).capturedShare).toBeLessThan(0.95);
    expect(depthForShare(task({ bowl: { ...task().bowl, areaM2: 2 } }), 0.95)).toBeNull();
  });

  it('more captured needs more area, deeper water less', () => {
    const areas = [0.5, 0.7, 0.9, 0.99].map((share) => areaForShare(task(), share) ?? NaN);
    expect(areas).toEqual([...areas].sort((a, b) => a - b));
    expect(areaForShare(task(), 0.9, 0.25)).toBeLessThan(areaForShare(task(), 0.9, 0.1) ?? 0);
  });

  it('the largest storm held: it is, and one of 2 % more is not', () => {
    const basin = basinAt(task());
    const of = (rainMm: number) => oneStorm(0.1 * rainMm, rainMm, 6);
    const heldMm = largestHeldMm(basin, of) ?? NaN;
    const overflow = (rainMm: number): number =>
      fillAndDrain(basin, of(rainMm), { stepS: 120, strips: 5 }).summary.overflowM3;
    // what is said to be held is held
    const options = { stepS: 120, strips: 5, horizonH: 0 };
    const { overflowM3, inflowM3 } = fillAndDrain(basin, of(heldMm), options).summary;
    expect(overflowM3).toBeLessThanOrEqual(1e-4 * inflowM3);
    expect(overflow(heldMm * 1.02)).toBeGreaterThan(1e-3);
    expect(largestHeldMm(basin, () => inflow(3600, [1000]))).toBe(0);
    expect(largestHeldMm(basin, () => inflow(3600, [0]))).toBeNull();
  });
});

describe('by factor and by storm', () => {
  it('agree where they do', () => {
    const stormArea = areaForShare(task(), 0.9) ?? NaN;
    const drained = [{ areaM2: stormArea / 0.25, fromDownspoutM: 3 }];
    const both = sizeBothWays(
      task({ bowl: { ...task().bowl, pondingDepthM: 0.1524 } }),
      'silty',
      drained,
      0.9,
      0.8,
      'metric',
    );
    expect(both.factors[0].factor).toBe(0.25);
    expect(both.agree).toBe(true);
  });

  it('says that one large storm is more than a year’s small ones', () => {
    const both = sizeBothWays(
      task({ inflow: oneStorm(14, 120, 6) }),
      'silty',
      [{ areaM2: 100, fromDownspoutM: 3 }],
      0.9,
      0.9,
      'metric',
    );
    expect(both.stormAreaM2 ?? 0).toBeGreaterThan(both.factorAreaM2);
    expect(both.factorCapturedShare).toBeLessThan(0.9);
    expect(both.why).toMatch(/rains of a year.*half the water/);
  });

  it('says that little runs off, or that pores hold it', () => {
    const little = sizeBothWays(
      task({ inflow: oneStorm(1, 20, 6) }),
      'clayey',
      [{ areaM2: 100, fromDownspoutM: 3 }],
      0.9,
      0.2,
      'metric',
    );
    expect(little.stormAreaM2 ?? 99).toBeLessThan(little.factorAreaM2);
    expect(little.why).toContain('20 % of the rain runs off');
    expect(little.why).toContain('pores');
  });
});

describe('on soil that is too slow', () => {
  const aim = { limitH: 48, wantedShare: 0.8, mostAreaM2: 60, units: 'metric' as const };
  const slow = task({ subsoil: { conductivityMPerS: 1.5 * mmPerH, suctionM: 0, deficit: 0 } });
  const remedies = slowSoilRemedies(slow, aim);
  const of = (kind: string) => {
    const found = remedies.find((each) => each.kind === kind);
    if (found === undefined) throw new Error(`no ${kind}`);
    return found;
  };

  it('less depth on more area drains in time and captures what is wanted', () => {
    const found = of('shallower-and-wider');
    expect(found.works).toBe(true);
    // 1.5 mm/h for 48 h, and the millimetre that counts as empty
    expect(found.pondingDepthM).toBeCloseTo(0.073, 2);
    expect(found.areaM2).toBeGreaterThan(slow.bowl.areaM2);
    expect(found.fromFullH ?? 99).toBeLessThanOrEqual(48);
    expect(found.capturedShare).toBeGreaterThanOrEqual(0.8);
    expect(found.why).toMatch(/^Ponding of 7\.\d cm on \d+ m² drains in time/);
  });

  it('an underdrain empties it, and says where its water has to go', () => {
    const found = of('underdrain');
    expect(found.works).toBe(true);
    expect(found.underdrainM3).toBeGreaterThan(1);
    expect(found.fromFullH ?? 99).toBeLessThan(12);
  });

  it('the soil that it would take is that of depth over time', () => {
    const found = of('faster-soil');
    expect(found.rateMPerS / mmPerH).toBeGreaterThan((150 - 1) / 48 - 0.1);
    expect(found.rateMPerS / mmPerH).toBeLessThan((150 / 48) * 1.1);
  });

  it('nothing works where there is no room, no fall for a pipe and no soil', () => {
    const dead = task({
      subsoil: { conductivityMPerS: 0, suctionM: 0, deficit: 0 },
      layers: [],
    });
    const found = slowSoilRemedies(dead, { ...aim, mostAreaM2: 14 });
    expect(nothingWorks(found)).toBe(true);
    expect(nothingWorks(remedies)).toBe(false);
    expect(found.every(({ why }) => why.length > 20)).toBe(true);
  });
});
