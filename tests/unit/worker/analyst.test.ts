import { describe, expect, it } from 'vitest';
import { cornerAndCell, writeRaster } from '../../../fixtures/broken/tiff';
import { Cancelled } from '../../../lib/errors';
import type { LngLat } from '../../../lib/frame/frame';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';
import type { PageSource, WaterPicture } from '../../../src/app/worker/analysis-api';
import { Analyst } from '../../../src/app/worker/analyst';
import { EAST, lngLatAt, NORTH, planeM, UTM_KEYS } from '../elevation/plane';

const reachM = 130;

/** A raster of one-metre cells of the plane, with a round hollow so deep at a place in metres from its middle. */
function rasterWith(name: string, hollow: { e: number; n: number; deepM: number }): PageSource {
  const [west, north] = [EAST - reachM, NORTH + reachM];
  const bytes = writeRaster({
    width: 2 * reachM,
    height: 2 * reachM,
    z: (column, row) => {
      const [e, n] = [column + 0.5 - reachM, reachM - row - 0.5];
      const far = Math.hypot(e - hollow.e, n - hollow.n);
      return planeM(EAST + e, NORTH + n) - Math.max(0, hollow.deepM * (1 - far / 8));
    },
    place: cornerAndCell(west, north, 1),
    keys: UTM_KEYS,
  });
  return { name, blob: new Blob([bytes]) };
}
const one = rasterWith('one.tif', { e: 4, n: 0, deepM: 2 });
const other = rasterWith('other.tif', { e: -6, n: 5, deepM: 3 });

function planWith(...basin: readonly (readonly [number, number])[]): Plan {
  const ring = (corners: readonly (readonly [number, number])[]): LngLat[] =>
    [...corners, corners[0]].map(([e, n]) => lngLatAt(EAST + e, NORTH + n));
  const square: [number, number][] = [
    [-20, -20],
    [20, -20],
    [20, 20],
    [-20, 20],
  ];
  const feature = (id: string, corners: readonly (readonly [number, number])[], rest: object) => ({
    type: 'Feature',
    id,
    properties: rest,
    geometry: { type: 'Polygon', coordinates: [ring(corners)] },
  });
  const features = [feature('lot', square, { kind: 'lot', own: true })];
  if (basin.length > 0) features.push(feature('basin', basin, { kind: 'basin' }));
  const document = { type: 'FeatureCollection', lotfall: { version: 1 }, features };
  return readPlan(JSON.stringify(document), 'plan').plan;
}
const bare = planWith();
const withBasin = planWith([10, 10], [14, 10], [14, 14], [10, 14]);

const idle = (): AbortSignal => new AbortController().signal;
const none = (): void => undefined;

/** A worker's inside that has read some rasters, under numbers of their own. */
async function surveyed(...sources: readonly [number, PageSource, Plan][]): Promise<Analyst> {
  const analyst = new Analyst();
  for (const [number, source, plan] of sources) {
    const { file } = await analyst.open(number, source, idle());
    await analyst.survey(number, { file, verticalUnitM: null }, plan, idle(), none);
  }
  return analyst;
}

const drain = (analyst: Analyst, ground: number, plan: Plan): Promise<WaterPicture> =>
  analyst.groundOf(ground).drain(plan, new Map(), idle(), none);

/** Water as it is where nothing else goes on. */
async function alone(source: PageSource, plan: Plan): Promise<WaterPicture> {
  return drain(await surveyed([1, source, plan]), 1, plan);
}

describe('grounds in the worker', () => {
  it('are kept apart: one that is read while water runs over another takes nothing of it, and gives it nothing', async () => {
    const [ofOne, ofOther] = [await alone(one, withBasin), await alone(other, withBasin)];
    expect(ofOne.result.low_spots).not.toEqual(ofOther.result.low_spots);
    const analyst = await surveyed([1, one, bare]);
    const { file } = await analyst.open(2, other, idle());
    // Water is asked for on the old ground when the new one is shaped and not there yet: the old one is shaped for the
    // same plan then, after the new one.
    const running: Promise<WaterPicture>[] = [];
    const onProgress = (_: number, stage: string): void => {
      if (stage === 'Shading relief') running.push(drain(analyst, 1, withBasin));
    };
    const from = { file, verticalUnitM: null };
    await analyst.survey(2, from, withBasin, idle(), onProgress);
    const next = drain(analyst, 2, withBasin);
    analyst.goOnWith(2);
    expect(running).toHaveLength(1);
    expect((await running[0]).result).toEqual(ofOne.result);
    expect((await next).result).toEqual(ofOther.result);
    // And once more, from what is kept by now.
    expect((await drain(analyst, 2, withBasin)).result).toEqual(ofOther.result);
  });

  it('that the page has left are gone: a task that comes late for one ends as stopped', async () => {
    const analyst = await surveyed([1, one, bare], [2, other, bare]);
    analyst.goOnWith(2);
    expect(() => analyst.groundOf(1)).toThrow(Cancelled);
    // To one that is not there nothing is lost.
    analyst.goOnWith(3);
    expect(analyst.groundOf(2).number).toBe(2);
  });

  it('are read from the file that is named, not from the one that was opened last', async () => {
    const analyst = new Analyst();
    const first = await analyst.open(1, one, idle());
    await analyst.open(2, other, idle());
    await analyst.survey(3, { file: first.file, verticalUnitM: null }, bare, idle(), none);
    expect((await drain(analyst, 3, bare)).result).toEqual((await alone(one, bare)).result);
  });

  it('are left as they are by a survey that is stopped', async () => {
    const analyst = await surveyed([1, one, bare]);
    const { file } = await analyst.open(2, other, idle());
    const stop = new AbortController();
    const survey = analyst.survey(2, { file, verticalUnitM: null }, bare, stop.signal, none);
    stop.abort();
    await expect(survey).rejects.toThrow(Cancelled);
    expect(() => analyst.groundOf(2)).toThrow(Cancelled);
    expect((await drain(analyst, 1, bare)).result).toEqual((await alone(one, bare)).result);
  });
});

describe('tasks on one ground', () => {
  it('take turns: those asked together come to what they come to one by one', async () => {
    const analyst = await surveyed([1, one, bare]);
    const ground = analyst.groundOf(1);
    const terms = { today: '2026-05-01', basins: 1 };
    const middle = lngLatAt(EAST + 4, NORTH);
    const [first, second, place, point] = await Promise.all([
      drain(analyst, 1, withBasin),
      drain(analyst, 1, bare),
      ground.askPlace(bare, terms, middle, idle(), none),
      ground.probe(withBasin, middle, idle()),
    ]);
    expect(first.result).toEqual((await alone(one, withBasin)).result);
    expect(second.result).toEqual((await alone(one, bare)).result);
    const quiet = (await surveyed([1, one, bare])).groundOf(1);
    expect(place).toEqual(await quiet.askPlace(bare, terms, middle, idle(), none));
    expect(point).toEqual(await quiet.probe(withBasin, middle, idle()));
  });

  it('let others in while low spots are filled, and stop where the ground is shaped anew meanwhile', async () => {
    const analyst = await surveyed([1, one, bare]);
    const ground = analyst.groundOf(1);
    const alone = await ground.spills(bare, idle());
    expect(alone.map(({ spillsFromMm }) => spillsFromMm)).toContainEqual(expect.any(Number));
    const [again, storm] = await Promise.all([
      ground.spills(bare, idle()),
      drain(analyst, 1, bare),
    ]);
    expect(again).toEqual(alone);
    expect(storm.result.low_spots.map(({ id }) => id)).toEqual(
      expect.arrayContaining(alone.map(({ id }) => id)),
    );
    const [late] = await Promise.allSettled([
      ground.spills(bare, idle()),
      drain(analyst, 1, withBasin),
    ]);
    expect(late.status === 'rejected' && late.reason instanceof Cancelled).toBe(true);
  });
});
