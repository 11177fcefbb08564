import { writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  bareLot,
  demoElevation,
  featureOf,
  oddPlan,
  readDemoPlan,
  save,
  tempFolder,
} from './inputs';
import { expectRefused, lotfall } from './run-lotfall';

const at = tempFolder();

/** A lot with very many corners on a circle of 20 m. */
function manyCorners(count: number): string {
  const corners = Array.from({ length: count }, (_, i) => {
    const turn = (2 * Math.PI * i) / count;
    return [-87.1068 + 0.0002 * Math.cos(turn), 42.5101 + 0.0002 * Math.sin(turn)] as const;
  });
  return save(at('many.geojson'), bareLot(corners));
}

function withoutBasin(): string {
  const plan = readDemoPlan();
  plan.features = plan.features.filter(({ id }) => id !== 'basin');
  return save(at('without-basin.geojson'), plan);
}

function withTwoOwnLots(): string {
  const plan = readDemoPlan();
  featureOf(plan, 'lot-uphill').properties['own'] = true;
  return save(at('two-own.geojson'), plan);
}

function text(name: string, content: string): string {
  writeFileSync(at(name), content);
  return at(name);
}

/** A plan, and what the refusal must name: the file, the place in it, what is wrong and what to do. */
const cases: readonly (readonly [string, () => string, readonly (string | RegExp)[]])[] = [
  [
    'not JSON',
    () => oddPlan('bad-json.geojson'),
    [/^bad-json\.geojson, line 60, column 26: not JSON/, 'correct that place'],
  ],
  ['empty', () => oddPlan('bad-empty.geojson'), ['bad-empty.geojson', 'the file is empty']],
  [
    'not a collection',
    () => oddPlan('bad-not-collection.geojson'),
    ['FeatureCollection', '"Feature"', 'wrap the features'],
  ],
  [
    'JSON of another kind',
    () => text('list.geojson', '[1, 2]'),
    ['list.geojson', 'expected a GeoJSON FeatureCollection'],
  ],
  [
    'unknown kind',
    () => oddPlan('bad-kind.geojson'),
    ["feature 'house', kind", 'unknown kind "Bilding"', 'did you mean building'],
  ],
  [
    'lot line that crosses itself',
    () => oddPlan('bad-crossing-lot-line.geojson'),
    ["feature 'lot'", 'crosses or touches itself at [-70.39', 'move the corners'],
  ],
  [
    'downspout without its roof',
    () => oddPlan('bad-roof-reference.geojson'),
    ["feature 'spout', roof", "no roof has the id 'barn-roof'", 'name one of house-roof'],
  ],
  [
    'off the globe',
    () => oddPlan('bad-off-globe.geojson'),
    ["feature 'spout'", '[-186.4,39.77] is off the globe', 'longitudes from -180 to 180'],
  ],
  [
    'metres for degrees',
    () => oddPlan('bad-projected.geojson'),
    ["feature 'spout'", 'projected coordinates', 'EPSG:4326'],
  ],
  ['a hundred thousand corners', () => manyCorners(100_000), ["feature 'lot'", 'simplify it']],
  [
    'a property of the wrong kind',
    () => oddPlan('bad-property.geojson'),
    ["feature 'spout', share", 'at most 1', '1.5', 'correct share'],
  ],
];

describe('a plan that cannot be used is refused with a sentence', () => {
  it.concurrent.each(cases)('%s', async (_, plan, parts) => {
    expectRefused(await lotfall('setbacks', plan()), ...parts);
  });

  it('but not where it has no basin: setbacks judges it by the rules that need none', async () => {
    const run = await lotfall('setbacks', withoutBasin());
    expect(run).toMatchObject({ status: 0, stderr: '' });
    expect(run.stdout).toMatch(/Outlet to a building/);
  });

  it('drainage needs one own lot', async () => {
    const plan = withTwoOwnLots();
    expectRefused(
      await lotfall('drainage', plan, '-e', demoElevation),
      'two-own.geojson: 2 lots are marked as your own (lot, lot-uphill)',
      'set own to false',
    );
  });

  it('ten thousand corners are still worked on', async () => {
    const run = await lotfall('drainage', manyCorners(9_999), '-e', demoElevation);
    expect(run).toMatchObject({ status: 0, stderr: '' });
  });
});
