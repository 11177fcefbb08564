import { describe, expect, it } from 'vitest';
import { designBasins } from '../../../../lib/basin/design/design-basins';
import { isDesigned, type BasinDesign } from '../../../../lib/basin/design/design-result';
import type { RecordedRain } from '../../../../lib/basin/filling/long-run';
import { shapeGround } from '../../../../lib/drainage/storm/shaped-ground';
import { stormOnGround } from '../../../../lib/drainage/storm/storm-on-ground';
import type { PlanFeature, Settings } from '../../../../lib/plan/schema';
import { box, frame, groundOf, planOf, pointOf, polygonOf } from '../../ground/plane-lot';

const rainMm = 80;
const settings: Partial<Settings> = {
  storm: { rain_mm: rainMm, duration_h: 6, pattern: 'uniform' },
  soil: { group: 'C', texture: 'silty' },
};

function basin(id: string, south: number, properties: object = {}): PlanFeature {
  return polygonOf(id, box(26, south, 34, south + 4), {
    kind: 'basin',
    ponding_depth_m: 0.12,
    ...properties,
  });
}

/** A slope to the south on which water gathers a little towards x = 30. */
function designed(
  features: readonly PlanFeature[],
  event: Partial<Settings> = settings,
  depthMm = rainMm,
  record?: RecordedRain,
): ReturnType<typeof designBasins> {
  const own = polygonOf('own', box(5, 2, 55, 58), { kind: 'lot', own: true });
  const plan = planOf([own, ...features], event);
  const elevation = groundOf(60, 60, 0.5, (x, y) => 5 + 0.04 * y + 0.002 * Math.abs(x - 30));
  const shape = shapeGround(elevation, plan);
  const storm = stormOnGround(shape, plan, depthMm);
  return designBasins({
    elevation,
    plan,
    shape,
    storm,
    ...(record === undefined ? {} : { record }),
  });
}

function only(result: ReturnType<typeof designBasins>): BasinDesign[] {
  return result.basins.filter(isDesigned);
}

describe('the basins of a plan', () => {
  it('in the plan’s order, the lower one with the overflow of the one above', () => {
    const [lower, upper] = only(designed([basin('lower', 10), basin('upper', 24)]));
    expect([lower.id, upper.id]).toEqual(['lower', 'upper']);
    expect(upper.overflow.to_basin).toBe('lower');
    expect(upper.overflow.verdict).toMatchObject({ reaches: 'basin', feature: 'lower' });
    expect(upper.storm.overflow_m3).toBeGreaterThan(1);
    expect(lower.storm.from_overflow_m3).toBe(upper.storm.overflow_m3);
    expect(lower.overflow.to_basin).toBeNull();
    expect(lower.notes.join(' ')).not.toContain('followed on');
    expect(upper.notes.join(' ')).toContain('followed on into the basin lower');
    // what the upper one holds does not come to the lower one
    const [alone] = only(designed([basin('lower', 10)]));
    expect(lower.storm.inflow_m3).toBeLessThan(alone.storm.inflow_m3);
  });

  it('without a basin: none', () => {
    expect(designed([]).basins).toEqual([]);
  });

  it('keeps one that is smaller than the cells in the list, and leaves its ground as it is', () => {
    // between the middles of cells of half a metre
    const tiny = polygonOf('tiny', box(20.3, 40.3, 20.7, 40.7), {
      kind: 'basin',
      ponding_depth_m: 0.02,
      freeboard_m: 0.01,
    });
    const { basins } = designed([tiny, basin('whole', 20)]);
    expect(basins).toHaveLength(2);
    expect(basins[0]).toMatchObject({
      id: 'tiny',
      not_dug: expect.stringContaining('Not dug: it is smaller than a cell') as string,
    });
    expect(isDesigned(basins[1])).toBe(true);
    const heights = groundOf(60, 60, 0.5, (x, y) => 5 + 0.04 * y + 0.002 * Math.abs(x - 30));
    const { ground } = shapeGround(heights, planOf([tiny]));
    expect(ground.basins).toEqual([]);
    expect(ground.grid.z).toEqual(shapeGround(heights, planOf([])).ground.grid.z);
  });

  it('says why one cannot be dug, and works the others out', () => {
    const shallow = basin('shallow', 40, { freeboard_m: 3 });
    const result = designed([shallow, basin('good', 10)]);
    expect(result.basins[0]).toMatchObject({
      id: 'shallow',
      not_dug: expect.stringContaining('Not dug') as string,
    });
    expect(only(result).map(({ id }) => id)).toEqual(['good']);
  });

  it('is plain data: JSON brings it back as it was', () => {
    const result = designed([basin('lower', 10)]);
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
  });

  it('captures the wanted share at the area and at the depth that it solves for', () => {
    const [small] = only(designed([basin('lower', 10)]));
    expect(small.sizing.wanted_fraction).toBe(0.9);
    expect(small.storm.captured_fraction).toBeLessThan(0.9);
    expect(small.sizing.by_storm.area_m2 ?? 0).toBeGreaterThan(small.basin.area_m2);
    expect(small.sizing.by_storm.largest_held_mm ?? 999).toBeLessThan(rainMm);
    expect(small.sizing.by_factor?.soil).toBe('silty');
    expect(small.sizing.why.length).toBeGreaterThan(20);
  });

  it('has taken in what is captured less what still stands when the last water comes', () => {
    const full = only(designed([basin('lower', 10)]))[0];
    expect(full.storm.overflow_m3).toBeGreaterThan(1);
    expect(full.storm.taken_in_m3).toBeCloseTo(full.storm.captured_m3 - full.basin.storage_m3, 9);
    const light = {
      storm: { ...settings.storm, rain_mm: 20 },
      soil: { group: 'C' as const, rate_mm_per_h: 0.5 },
    };
    const part = only(designed([basin('lower', 10, { layers: [] })], light, 20))[0];
    expect(part.storm.overflow_m3).toBe(0);
    const { time_h, inflow_m3_per_h, depth_m } = part.series;
    const last = time_h.findLastIndex((_, i) => inflow_m3_per_h[i] > 0);
    const stands = part.storm.captured_m3 - part.storm.taken_in_m3;
    expect(depth_m[last]).toBeGreaterThan(0.01);
    const { stage_storage } = part.basin;
    const over = stage_storage.findIndex(({ depth_m: depth }) => depth > depth_m[last]);
    expect(stands).toBeGreaterThanOrEqual(stage_storage[over - 1].volume_m3);
    expect(stands).toBeLessThanOrEqual(stage_storage[over].volume_m3);
  });

  it('passes no notch by a storm that nobody calls rare enough, and says from which it fails', () => {
    const notchOf = (event: Partial<Settings>, asked?: number) =>
      only(designed([basin('b', 20, { notch_rain_mm: asked })], event))[0].overflow.notch;
    const by = (rain_mm: number): Partial<Settings> => ({
      ...settings,
      storm: { rain_mm, duration_h: 6, pattern: 'uniform' },
    });
    const open = notchOf(by(20));
    expect(open).toMatchObject({ result: 'check', rain_from: 'event' });
    const failsFrom = open.fails_from_mm!;
    expect(open.why).toContain(`it fails from ${Math.round(failsFrom)} mm`);
    // a property of the basin and its ground, not of the storm that is poured
    expect(notchOf(by(30)).fails_from_mm).toBeCloseTo(failsFrom, 9);
    expect(notchOf(by(20), failsFrom + 2).result).toBe('fail');
    expect(notchOf(by(20), failsFrom - 2).result).not.toBe('fail');
    expect(notchOf(by(failsFrom + 2)).result).toBe('fail');
    // asked for, it may pass
    expect(notchOf(by(20), 25)).toMatchObject({ result: 'pass', rain_from: 'plan' });
  });

  it('passes neither berm nor inlet by such a storm, and says from which grass washes out', () => {
    const overflowOf = (rain_mm: number, asked?: number) => {
      const storm = { rain_mm, duration_h: 1, pattern: 'uniform' } as const;
      const plan = [basin('b', 20, { notch_rain_mm: asked })];
      return only(designed(plan, { ...settings, storm }))[0].overflow;
    };
    const open = overflowOf(20);
    const [berm, inlet] = [open.notch.erosion_fails_from_mm!, open.inlet.fails_from_mm!];
    expect(open.notch.erosion).toBe('check');
    expect(open.notch.erosion_why).toContain(`it fails from ${Math.round(berm)} mm`);
    expect(open.inlet.result).toBe('check');
    expect(open.inlet.why).toContain(`it fails from ${Math.round(inlet)} mm`);
    expect(overflowOf(20, berm + 3).notch.erosion).toBe('fail');
    expect(overflowOf(20, berm - 3).notch.erosion).not.toBe('fail');
    expect(overflowOf(20, inlet + 3).inlet.result).toBe('fail');
    expect(overflowOf(20, inlet - 3).inlet.result).not.toBe('fail');
    const asked = overflowOf(20, 25);
    expect([asked.notch.erosion, asked.inlet.result]).toEqual(['pass', 'pass']);
    expect(asked.inlet.why).toBe('Established grass bears this.');
  });

  it('measures its notch by the same storm on a full basin', () => {
    const small = { ...settings, storm: { ...settings.storm, rain_mm: 30 } };
    const [found] = only(designed([basin('lower', 10)], small, 30));
    expect(found.storm.overflow_m3).toBe(0);
    expect(found.overflow.notch.peak_m3_per_h).toBeGreaterThan(0.1);
    expect(found.overflow.notch.head_m).toBeGreaterThan(0);
  });

  it('sends overflow down a pipe that has room, and judges where that ends', () => {
    const drain = (properties: object): PlanFeature =>
      pointOf('drain', [30, 5.2], { kind: 'yard-drain', name: 'Grate', ...properties });
    const [bare] = only(designed([basin('lower', 10)]));
    expect(bare.overflow.ways).toHaveLength(1);
    expect(bare.overflow.verdict.why).not.toMatch(/Grate/);

    const [sewer] = only(
      designed([basin('lower', 10), drain({ outlet: 'storm-sewer', capacity_m3_per_h: 500 })]),
    );
    expect(sewer.overflow.verdict).toMatchObject({ reaches: 'storm-sewer', result: 'pass' });
    expect(sewer.overflow.verdict.why).toMatch(/Grate takes all that comes, .* a minute/);
    expect(sewer.overflow.ways[0].legs.map(({ by }) => by)).toEqual(['ground', 'pipe']);
    expect(sewer.overflow.inlets[0].takes_m3_per_h).toBeCloseTo(
      sewer.overflow.notch.peak_m3_per_h,
      9,
    );

    const [small] = only(
      designed([basin('lower', 10), drain({ outlet: 'storm-sewer', capacity_m3_per_h: 2 })]),
    );
    expect(small.overflow.ways).toHaveLength(2);
    expect(small.overflow.ways.map(({ result }) => result)).toEqual(['check', 'pass']);
    // the worse of the two counts
    expect(small.overflow.verdict.result).toBe('check');
    expect(small.overflow.verdict.why).toMatch(/what exceeds it goes on over the ground/);
    const flows = small.overflow.ways.map(({ flow_m3_per_h }) => flow_m3_per_h);
    expect(flows[0] + flows[1]).toBeCloseTo(small.overflow.notch.peak_m3_per_h, 9);
    expect(flows[1]).toBeCloseTo(2, 9);

    const [blocked] = only(
      designed([basin('lower', 10), drain({ outlet: 'storm-sewer', blocked: true })]),
    );
    expect(blocked.overflow.verdict.why).toMatch(/Grate is blocked and takes nothing/);
    expect(blocked.overflow.verdict.reaches).toBe(bare.overflow.verdict.reaches);
  });

  it('finds the next basin through a pipe', () => {
    const upper = basin('upper', 24);
    const aside = polygonOf('aside', box(40, 8, 48, 12), {
      kind: 'basin',
      ponding_depth_m: 0.12,
    });
    const into = frame.toLngLat([44, 10]);
    const drain = pointOf('drain', [30, 21.2], {
      kind: 'yard-drain',
      outlet: into,
      capacity_m3_per_h: 500,
    });
    const [over] = only(designed([upper, aside]));
    expect(over.overflow.to_basin).toBeNull();
    const [piped, below] = only(designed([upper, aside, drain]));
    expect(piped.overflow.to_basin).toBe('aside');
    expect(piped.overflow.verdict).toMatchObject({ reaches: 'basin', feature: 'aside' });
    expect(below.storm.from_overflow_m3).toBe(piped.storm.overflow_m3);
  });

  it('over the years as in the storm, gives credit for paving that spreads over lawn', () => {
    const depthsMm = new Float64Array(24 * 20);
    depthsMm.fill(10, 24, 32);
    const record = { stepS: 3600, depthsMm, start: '2021-05-01T00:00' };
    const paved = (properties: object): PlanFeature =>
      polygonOf('drive', box(24, 30, 36, 50), {
        kind: 'surface',
        cover: 'paving',
        ...properties,
      });
    const inflowM3 = (properties: object): number => {
      const [each] = only(
        designed([basin('lower', 10), paved(properties)], settings, rainMm, record),
      );
      return each.long_run?.all.inflow_m3 ?? 0;
    };
    const connected = inflowM3({});
    expect(connected).toBeGreaterThan(1);
    expect(inflowM3({ unconnected: true })).toBeLessThan(0.99 * connected);
  });

  it('takes a thaw as well: all of it on frozen ground', () => {
    const thaw: Partial<Settings> = {
      ...settings,
      event: 'thaw',
      thaw: {
        snow_water_mm: 60,
        days: [{ mean_c: 5 }, { mean_c: 8, rain_mm: 10 }],
        ground: 'frozen',
      },
    };
    const plain = only(designed([basin('lower', 10)], thaw, 45))[0];
    expect(plain.storm.kind).toBe('thaw');
    expect(plain.sizing.by_storm.largest_held_mm).toBeNull();
    expect(plain.storm.from_ground_m3).toBeGreaterThan(0);
    expect(Math.abs(plain.storm.error_m3)).toBeLessThan(1e-9 * plain.storm.inflow_m3);
  });
});
