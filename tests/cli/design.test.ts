import { readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  isDesigned,
  type BasinDesign,
  type DesignResult,
} from '../../lib/basin/design/design-result';
import { demoElevation, demoPlan, featureOf, readDemoPlan, save, tempFolder } from './inputs';
import {
  documentOf,
  expectRefused,
  lotfall,
  lotfallBoth,
  lotfalls,
  namesIn,
  numbersIn,
  type Run,
} from './run-lotfall';

const at = tempFolder();
const call = ['design', demoPlan, '-e', demoElevation];

type Document = DesignResult & BasinDesign;

/** A run's document with its first basin taken out to the top. */
function firstOf(run: Run): Document {
  const found = documentOf(run) as DesignResult;
  const first = found.basins.find(isDesigned);
  if (first === undefined) throw new Error('no basin was designed');
  return { ...first, ...found };
}

describe('lotfall design', () => {
  let plain: { readonly json: Run; readonly words: Run };
  beforeAll(async () => {
    plain = await lotfallBoth(at('plain.txt'), ...call);
  });

  it('as JSON: the core fields, a balance to rounding, snake-case names and finite numbers', () => {
    const found = firstOf(plain.json);
    const { basin, storm } = found;
    expect(basin.area_m2).toBeCloseTo(30.4, 1);
    expect(basin.ponding_depth_m).toBeCloseTo(0.15, 6);
    expect(basin.dig_depth_m).toBeCloseTo(0.45, 6);
    expect(basin.storage_m3).toBeGreaterThan(0.1 * 30);
    expect(basin.storage_m3).toBeLessThan(0.15 * 30);
    for (const layer of basin.layers) {
      expect(layer.volume_m3).toBeCloseTo(layer.thickness_m * basin.area_m2, 6);
    }
    expect(storm.rain_mm).toBe(40);
    expect(Math.abs(storm.error_m3)).toBeLessThan(1e-9 * storm.inflow_m3);
    expect(storm.captured_m3 + storm.overflow_m3).toBeCloseTo(storm.inflow_m3, 9);
    expect(
      storm.from_ground_m3 + storm.from_roofs_m3 + storm.from_drains_m3 + storm.on_itself_m3,
    ).toBeCloseTo(storm.inflow_m3, 6);
    expect(storm.on_itself_m3).toBeCloseTo(0.04 * basin.area_m2, 6);
    // The document carries what the inflow is worked out from by hand: Q = (P - 0.2 S)^2 / (P + 0.8 S).
    const byHandM3 = (areaM2: number, curveNumber: number | null): number => {
      const retentionMm = 25.4 * (1000 / (curveNumber ?? Number.NaN) - 10);
      return (areaM2 * (40 - 0.2 * retentionMm) ** 2) / (40 + 0.8 * retentionMm) / 1000;
    };
    const { by_cover, roofs, roof_curve_number } = found.catchment;
    let groundM2 = 0;
    let runsOffM3 = 0;
    for (const row of by_cover) {
      groundM2 += row.area_m2;
      runsOffM3 += byHandM3(row.area_m2, row.curve_number);
    }
    const roofM2 = roofs.reduce((sum, { area_m2 }) => sum + area_m2, 0);
    expect(groundM2).toBeCloseTo(found.catchment.ground_m2, 6);
    const comesM3 = storm.from_ground_m3 + storm.from_roofs_m3;
    const heldM3 = storm.held_in_barrels_m3 + storm.held_in_low_spots_m3;
    expect((comesM3 + heldM3) / (runsOffM3 + byHandM3(roofM2, roof_curve_number))).toBeCloseTo(
      1,
      6,
    );
    expect(by_cover).toContainEqual(
      expect.objectContaining({
        cover: 'lawn',
        condition: 'good',
        soil_group: 'C',
        curve_number: 74,
      }),
    );
    // A day's rain of type II fills it to the sill, and most of it is kept.
    expect(storm.peak_depth_m).toBeGreaterThan(0.14);
    expect(storm.peak_depth_m).toBeLessThan(0.17);
    expect(storm.captured_fraction).toBeGreaterThan(0.7);
    expect(Math.abs(storm.half_step.peak_depth_m)).toBeLessThan(0.01 * storm.peak_depth_m);
    // The hole's wall took three quarters of its water: 3.0 mm/h where the fall alone would make it 12.8.
    expect(found.soil).toMatchObject({ from: 'tests', factor: 2.5 });
    expect(found.soil.rate_mm_per_h).toBeCloseTo(3.02, 2);
    expect(found.soil.notes.join()).toContain('screening test');
    expect(found.drain_down.result).toBe('fail');
    expect(found.drain_down.from_full_h).toBeGreaterThan(found.drain_down.limit_h);
    // Figures that a verdict hangs on carry their source.
    expect(found.basin.freeboard_asked).toMatchObject({
      least_m: 0.1524,
      source: { mark: 'seen' },
    });
    expect(found.catchment.least_slope_source.mark).toBe('our choice, no source');
    expect(found.overflow.notch.clear_source.mark).toBe('our choice, no source');
    expect(found.overflow.inlet.width_source.mark).toBe('common practice, no source');
    expect(found.quantities.map(({ name }) => name)).toContain('planting mix');
    expect(found.cost.missing).toContain('mulch');
    expect(found.basins).toHaveLength(1);
    expect(Object.keys(documentOf(plain.json) as object)).toEqual(['basins', 'soil', 'notes']);
    expect(found.basins.some((each) => 'series' in each)).toBe(false);
    for (const [path, value] of numbersIn(found)) expect(value, path).toSatisfy(Number.isFinite);
    for (const name of namesIn(found)) expect(name).toMatch(/^[a-z][a-z0-9_]*$/);
  });

  it('more rain overflows more, and the largest storm said to be held is held', async () => {
    const first = firstOf(plain.json);
    const heldMm = first.sizing.by_storm.largest_held_mm ?? 0;
    const [held, heavy] = await lotfalls(
      [...call, '--json', '--rain', `${(heldMm * 0.98).toFixed(2)}mm`],
      [...call, '--json', '--rain', '80mm'],
    );
    const storm = firstOf(held).storm;
    expect(storm.overflow_m3).toBeLessThan(0.01 * storm.inflow_m3);
    const most = firstOf(heavy).storm;
    expect(most.overflow_m3).toBeGreaterThan(first.storm.overflow_m3);
    expect(most.captured_fraction).toBeLessThan(first.storm.captured_fraction);
  });

  it('for people, and what happens over time as a table', async () => {
    const { words } = plain;
    const file = await lotfall(...call, '--out', at('time.csv'));
    expect(words).toMatchObject({ status: 0, stderr: '' });
    expect(words.stdout).toMatch(/^Marl Hollow 12: Rain garden, 40 mm of rain\n/);
    expect(words.stdout).toMatch(/^Captured +[\d.]+ m³, \d+ %$/m);
    expect(words.stdout).toMatch(/^Drain-down +fails +The surface is empty/m);
    expect(words.stdout).toMatch(/^To capture 90 % of this storm +\d+ m² at this depth$/m);
    expect(words.stdout).not.toMatch(/NaN|undefined|null|Infinity/);
    expect(file).toEqual({ status: 0, stdout: '', stderr: '' });
    const [head, ...rows] = readFileSync(at('time.csv'), 'utf8').trim().split('\n');
    expect(head).toBe(
      'time_h,inflow_m3_per_h,depth_m,layers_m3,soaked_m3_per_h,underdrain_m3_per_h,overflow_m3_per_h',
    );
    expect(rows.length).toBeGreaterThan(50);
    const figures = rows.map((row) => row.split(',').map(Number));
    expect(figures.flat().every(Number.isFinite)).toBe(true);
    const inflow = figures.reduce(
      (sum, row, i) => sum + row[1] * (row[0] - (figures[i - 1]?.[0] ?? 0)),
      0,
    );
    const document = firstOf(await lotfall(...call, '--json', '--series'));
    expect(inflow).toBeCloseTo(document.storm.inflow_m3, 6);
    expect(document.series.depth_m).toHaveLength(rows.length);
  });

  it('tells of time on the way, the books and the storm that the notch is made for', async () => {
    const plan = readDemoPlan();
    const usual = firstOf(plain.json);
    const { notch, inlet } = usual.overflow;
    expect([notch.rain_mm, notch.rain_from]).toEqual([40, 'event']);
    expect(notch.result).not.toBe('pass');
    expect(usual.catchment).toMatchObject({ rain_2y_from: 'usual', rain_2y_mm: 91.44 });
    // With no rarer storm the basin stands full when the plan's own has its peak: nothing is kept of that.
    expect(notch.peak_m3_per_h).toBeGreaterThan(0.9 * usual.storm.peak_inflow_m3_per_h);
    expect(notch.head_m).toBeCloseTo(
      (notch.peak_m3_per_h / 3600 / notch.coefficient) ** (2 / 3),
      9,
    );
    const basin = featureOf(plan, 'basin');
    basin.properties.notch_rain_mm = 90;
    const asked = save(at('notch.geojson'), plan);
    const rare = [...call, '--notch-rain', '90mm'];
    const { json: named, words } = await lotfallBoth(at('notch.txt'), ...rare);
    const [own, over] = await lotfalls(
      ['design', asked, '-e', demoElevation, '--json'],
      [...call, '--notch-rain', '9m'],
    );
    const rarer = firstOf(own).overflow;
    expect(firstOf(named).overflow).toEqual(rarer);
    expect([rarer.notch.rain_mm, rarer.notch.rain_from]).toEqual([90, 'plan']);
    expect(rarer.notch.peak_m3_per_h).toBeGreaterThan(2 * notch.peak_m3_per_h);
    expect(rarer.notch.sill_velocity_m_per_s).toBeGreaterThan(notch.sill_velocity_m_per_s);
    expect(rarer.inlet.velocity_m_per_s).toBeGreaterThan(inlet.velocity_m_per_s);
    expect(words.stdout).toMatch(/^Notch +\w+ .*Made for 90 mm \(as asked\) on a full basin\./m);
    expect(words.stdout).toMatch(/^ +erosion +\w+ +[\d.]+ m\/s on the sill, [\d.]+ m\/s down/m);
    expect(words.stdout).toMatch(/^Inlet +\w+ +[\d.]+ m\/s down the side/m);
    expect(words.stdout).toMatch(
      /^ +late by +\d+ min in the mean .* \(TR-55\), by 91 mm once in two years \(a usual figure/m,
    );
    expect(words.stdout).toMatch(/^Balance +off by .* of what comes in; steps of 30 s/m);
    expect(words.stdout).toMatch(/^Layers drained +[\d.]+ h after the rain$/m);
    expectRefused(over, '--notch-rain', '2000mm');
  });

  it('on soil nobody knows: checks, passes nothing, and says so', async () => {
    const plan = readDemoPlan();
    delete plan.lotfall.soil;
    plan.features = plan.features.filter((each) => each.properties.kind !== 'soil-test');
    const unknown = save(at('unknown.geojson'), plan);
    const found = firstOf(await lotfall('design', unknown, '-e', demoElevation, '--json'));
    expect(found.drain_down.result).toBe('check');
    expect(found.storm.drain_down_h).toBeNull();
    expect(found.soil.rate_mm_per_h).toBeNull();
    expect(found.sizing.by_factor).toMatchObject({ soil: 'clayey', soil_assumed: true });
    expect(
      found.notes
        .concat(found.basins.flatMap((each) => ('notes' in each ? each.notes : [])))
        .join(' '),
    ).toMatch(/upper bound/);
  });

  it('on slow soil: fails, with what would do', async () => {
    const plan = readDemoPlan();
    plan.lotfall.soil = { rate_mm_per_h: 1.5 };
    const slow = save(at('slow.geojson'), plan);
    const asked = ['design', slow, '-e', demoElevation];
    const { json, words } = await lotfallBoth(at('slow.txt'), ...asked);
    const found = firstOf(json);
    expect(found.drain_down.result).toBe('fail');
    expect(found.slow_soil.map(({ kind }) => kind)).toEqual([
      'shallower-and-wider',
      'deeper-layers',
      'underdrain',
      'faster-soil',
    ]);
    expect(words.stdout).toMatch(/^To make it drain in time:\n(would do|would not): /m);
  });

  it('two basins: the lower one gets the upper one’s overflow', async () => {
    const plan = readDemoPlan();
    const upper = structuredClone(featureOf(plan, 'basin'));
    const ring = upper.geometry.coordinates as [number, number][][];
    const lower = structuredClone(upper);
    const [lng, lat] = ring[0][0];
    const size = 0.00002;
    lower.id = 'second';
    delete lower.properties.overflow;
    lower.properties.name = 'Second';
    lower.geometry.coordinates = [
      [
        [lng + 2 * size, lat - 2 * size],
        [lng + 4 * size, lat - 2 * size],
        [lng + 4 * size, lat - 0.5 * size],
        [lng + 2 * size, lat - 0.5 * size],
        [lng + 2 * size, lat - 2 * size],
      ],
    ];
    plan.features.push(lower);
    const both = save(at('two.geojson'), plan);
    const found = firstOf(await lotfall('design', both, '-e', demoElevation, '--json'));
    expect(found.basins.map(({ id }) => id)).toEqual(['basin', 'second']);
    expect(found.id).toBe('basin');
    const designs = found.basins.filter((each): each is BasinDesign => 'storm' in each);
    for (const { storm, overflow, id } of designs) {
      const given = designs
        .filter(({ overflow: other }) => other.to_basin === id)
        .reduce((sum, { storm: other }) => sum + other.overflow_m3, 0);
      expect(storm.from_overflow_m3).toBeCloseTo(given, 9);
      expect(overflow.to_basin).not.toBe(id);
      expect(Math.abs(storm.error_m3)).toBeLessThan(1e-9);
    }
  });

  it('sends a long record through it', async () => {
    const lines = Array.from({ length: 60 }, (_, day) => {
      const date = new Date(Date.UTC(2020, 11, 1 + day)).toISOString().slice(0, 10);
      return `${date},${day % 7 === 0 ? 35 : 0}`;
    });
    writeFileSync(at('rain.csv'), `date,rain_mm\n${lines.join('\n')}\n`);
    const recorded = [...call, '--record', at('rain.csv'), '--drying', '2mm'];
    const { json, words } = await lotfallBoth(at('rain.txt'), ...recorded);
    const { long_run } = firstOf(json);
    expect(long_run?.years.map(({ year }) => year)).toEqual([2020, 2021]);
    expect(long_run?.all.rain_mm).toBe(9 * 35);
    expect(long_run?.all.storms).toBe(9);
    expect(Math.abs(long_run?.error_m3 ?? 1)).toBeLessThan(1e-9);
    expect(words.stdout).toMatch(/^year +rain +comes in +captured +overflows in +longest wet$/m);
  });

  it('says in one sentence what it lacks', async () => {
    const plan = readDemoPlan();
    plan.features = plan.features.filter(({ id }) => id !== 'basin');
    const bare = save(at('bare.geojson'), plan);
    writeFileSync(at('bare.csv'), 'date,rain\n2020-01-01,1\n2020-01-02,0\n');
    const [none, no, share, unit, file, dry] = await lotfalls(
      ['design', bare, '-e', demoElevation],
      ['design', demoPlan],
      [...call, '--capture', 'most'],
      [...call, '--record', at('bare.csv')],
      [...call, '--record', at('none.csv')],
      [...call, '--drying', '2mm'],
    );
    expectRefused(none, 'bare.geojson has no basin', 'lotfall sites');
    expect(no.status).toBe(0);
    expect(no.stdout).toMatch(/with --elevation and that file all of it is answered/);
    expectRefused(share, "'most' is no share", '90%');
    expectRefused(unit, 'bare.csv', '--record-unit');
    expectRefused(file, 'none.csv', 'record cannot be read');
    expectRefused(dry, '--record');
  });

  it('names the file and the place in it, and what is below the dig among the verdicts', async () => {
    const falls = readDemoPlan();
    falls.lotfall.storm = {
      rain_mm: 40,
      pattern: 'nested',
      return_period_y: 10,
      depth_table: {
        durations_min: [60, 1440],
        return_periods_y: [2, 10],
        depths_mm: [
          [25, 38],
          [30, 35],
        ],
      },
    };
    const wet = readDemoPlan();
    wet.lotfall.soil = { water_table_m: 0.4 };
    featureOf(wet, 'soil-test').properties.readings = [
      { minutes: 0, water_depth_m: 0.1 },
      { minutes: 60, water_depth_m: 0.2 },
    ];
    const deep = readDemoPlan();
    featureOf(deep, 'basin').properties.ponding_depth_m = 50;
    const [table, below, unit, absurd] = await lotfalls(
      ['design', save(at('falls.geojson'), falls), '-e', demoElevation],
      ['design', save(at('wet.geojson'), wet), '-e', demoElevation],
      [...call, '--record-unit', 'mm'],
      ['design', save(at('deep.geojson'), deep), '-e', demoElevation],
    );
    expectRefused(table, 'falls.geojson, the depth table: for 10 years', 'published table');
    expect(below.stdout).toMatch(/^High water +fails +The bottom would lie 31 cm into/m);
    expect(below.stdout).toMatch(/^Rock below +check +Depth of rock is not known/m);
    expect(below.stdout).toMatch(/left out\. Reading 2: The water has risen/);
    expectRefused(absurd, "deep.geojson, feature 'basin', ponding_depth_m", 'at most 3', '50');
    expectRefused(unit, '--record-unit goes with a record', '--record <file.csv>');
  });

  it('a basin outside the data does not keep the others from being worked out, and ends the run with 2', async () => {
    const plan = readDemoPlan();
    const far = structuredClone(featureOf(plan, 'basin'));
    const moved = JSON.stringify(far.geometry).replaceAll('-87.10', '-87.09');
    plan.features.push({
      ...far,
      id: 'far',
      geometry: JSON.parse(moved) as typeof far.geometry,
      properties: { kind: 'basin', name: 'Far basin' },
    });
    const run = await lotfall('design', save(at('far.geojson'), plan), '-e', demoElevation);
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(
      /^far\.geojson, Far basin: Not dug: .*leaves the elevation data; move/,
    );
    expect(run.stdout).toMatch(/^Ponding depth +15 cm$/m);
  });
});
