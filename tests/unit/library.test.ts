import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import * as library from '../../lib/index';

/** What somebody who calls the library may get wrong: a sentence each, never a fault of the program. */
describe('a mistake in a call of the library', () => {
  let survey: library.Survey;

  beforeAll(async () => {
    const at = (name: string): URL => new URL(`../../fixtures/demo/${name}`, import.meta.url);
    const { plan } = library.readPlan(readFileSync(at('lot.plan.geojson'), 'utf8'), 'demo');
    const blob = new Blob([readFileSync(at('lot.elevation.tif'))]);
    const file = await library.openElevation({ name: 'demo', blob });
    survey = await library.surveyLot(file, plan, {
      area: library.planArea(plan) ?? [0, 0, 0, 0],
    });
  });

  const settings = { version: 1 } as const;
  const utm: library.FrameSpec = {
    projection: '+proj=utm +zone=16 +datum=WGS84',
    ...{ originEast: 0, originNorth: 0, metresPerUnit: 1 },
  };

  it.each<[string, string, (survey: library.Survey) => unknown]>([
    [
      'heights that do not fit the cells',
      'terrain-size',
      () => library.buildTerrain(new Float32Array(5), 2, 3),
    ],
    [
      'a grid of another size than it says',
      'terrain-size',
      ({ elevation: { grid }, plan }) => library.shapeGround({ ...grid, z: grid.z.slice(9) }, plan),
    ],
    ...[Number.NaN, -1, Infinity].map(
      (rainMm): [string, string, (survey: library.Survey) => unknown] => [
        `a storm of ${rainMm} mm`,
        'rain-depth',
        ({ shape, plan }) => library.stormOnGround(shape, plan, rainMm),
      ],
    ),
    ['steps of nothing', 'event-step', () => library.waterEvent(settings, { stepS: 0 })],
    [
      'contours without end',
      'contour-interval',
      ({ elevation }) => library.contours(elevation.grid, { intervalM: 1e-7 }),
    ],
    [
      'contours of no interval',
      'contour-interval',
      ({ elevation }) => library.contours(elevation.grid, { intervalM: 0 }),
    ],
    [
      'a frame that is none',
      'frame-projection',
      () => library.makeFrame({ ...utm, projection: 'x' }),
    ],
    [
      'a raster without cells',
      'raster-size',
      ({ elevation }) => library.writeGeoTiff({ ...elevation.grid, width: 0 }, {}),
    ],
    [
      'half a code',
      'raster-epsg',
      ({ elevation }) => library.writeGeoTiff(elevation.grid, { epsg: 1.5 }),
    ],
    [
      'a raster in a system that is not said',
      'raster-system',
      ({ elevation }) => library.writeGeoTiff({ ...elevation.grid, frame: utm }, {}),
    ],
    ['nothing to merge', 'tallies', () => library.mergeTallies([])],
    ['an error below nothing', 'elevation-error', () => library.errorsOf(0.5, { rmseM: -1 })],
    [
      'surfaces counted backwards',
      'surfaces-range',
      ({ elevation: { grid }, plan }) =>
        library.certainty(
          library.prepareCertainty({
            ...{ elevation: grid, plan, rainMm: 30, seed: 1 },
            errors: library.errorsOf(grid.cellM),
          }),
          { from: 3, to: 1 },
        ),
    ],
    [
      'a share of seven',
      'percentile-share',
      () => library.percentileDepth({ name: 'r', eventsMm: Float64Array.of(5) }, 7),
    ],
    [
      'a feature put twice',
      'change-twice',
      ({ plan: { plan } }) =>
        library.applyChange(plan, { label: 'x', puts: [plan.features[0], plan.features[0]] }),
    ],
    [
      'a day that is none',
      'day',
      ({ plan }) =>
        library.checkSetbacks({
          ...{ plan, basins: [], ruleSet: library.ruleSetById('default') },
          today: '2026-5-1',
        }),
    ],
    ['a rule set that is not there', 'rule-set-unknown', () => library.ruleSetById('x')],
    ['a rule set that is none', 'rule-set-invalid', () => library.parseRuleSet(null, 'x')],
  ])('is told of in a sentence: %s', async (_, code, call) => {
    const failed = await Promise.resolve()
      .then(() => call(survey))
      .catch((error: unknown) => error);
    expect(failed).toBeInstanceOf(library.InputError);
    expect((failed as library.InputError).code).toBe(code);
    expect((failed as library.InputError).message).toMatch(/^[^\n]+: [^\n]+; [^\n]+[^.]\.$/);
  });
});
