import { expose, proxy, wrap, type Remote } from 'comlink';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { cornerAndCell, writeRaster } from '../../../fixtures/broken/tiff';
import { readPlan } from '../../../lib/plan/read-plan';
import type { AnalysisApi, Ended, PageSource } from '../../../src/app/worker/analysis-api';
import { serveAnalysis } from '../../../src/app/worker/serve-analysis';
import { EAST, lngLatAt, NORTH, planeM, UTM_KEYS } from '../elevation/plane';

const reachM = 60;
const raster = writeRaster({
  width: 2 * reachM,
  height: 2 * reachM,
  z: (column, row) => planeM(EAST + column + 0.5 - reachM, NORTH + reachM - row - 0.5),
  place: cornerAndCell(EAST - reachM, NORTH + reachM, 1),
  keys: UTM_KEYS,
});
const yard: PageSource = { name: 'yard.tif', blob: new Blob([raster]) };
const corners = [
  [-20, -20],
  [20, -20],
  [20, 20],
  [-20, 20],
  [-20, -20],
];
const lot = {
  type: 'Feature',
  id: 'lot',
  properties: { kind: 'lot', own: true },
  geometry: {
    type: 'Polygon',
    coordinates: [corners.map(([e, n]) => lngLatAt(EAST + e, NORTH + n))],
  },
};
const document = { type: 'FeatureCollection', lotfall: { version: 1 }, features: [lot] };
const { plan } = readPlan(JSON.stringify(document), 'plan');

/** The page's side and the worker's, with everything between them copied as it is between threads. */
let channel: MessageChannel;
let remote: Remote<AnalysisApi>;
beforeEach(() => {
  channel = new MessageChannel();
  expose(serveAnalysis(), channel.port1);
  remote = wrap<AnalysisApi>(channel.port2);
});
afterEach(() => {
  channel.port1.close();
  channel.port2.close();
});

const none = proxy(() => undefined);

function valueOf<T>(ended: Ended<T>): T {
  if (!ended.ok) throw new Error(JSON.stringify(ended.problem));
  return ended.value;
}

/** Opens the yard and reads its ground under a number. */
async function survey(number: number): Promise<void> {
  const { file } = valueOf(await remote.openElevation(number, yard));
  valueOf(await remote.survey(number, { file, verticalUnitM: null }, plan, none));
}

describe('the worker’s side of a task', () => {
  it('answers with what it was asked about', async () => {
    await survey(1);
    const fractions: number[] = [];
    const { ground, version, answer } = valueOf(
      await remote.drain(
        2,
        { ground: 1, version: 7, plan },
        new Map(),
        proxy((fraction: number) => fractions.push(fraction)),
      ),
    );
    expect([ground, version]).toEqual([1, 7]);
    expect(answer.depthM.length).toBeGreaterThan(1000);
    expect(fractions.length).toBeGreaterThan(0);
  });

  it('tells what the user can put right as a value, whole', async () => {
    const blob = new Blob(['no raster at all']);
    const ended = await remote.openElevation(1, { name: 'notes.txt', blob });
    expect(ended.ok).toBe(false);
    if (ended.ok) return;
    expect(ended.problem?.where).toContain('notes.txt');
    expect(Object.values(ended.problem ?? {}).every((part) => part !== '')).toBe(true);
  });

  it('says that a task was cancelled, and goes on with the next', async () => {
    await survey(1);
    const asked = { ground: 1, version: 1, plan };
    const stopped = remote.drain(2, asked, new Map(), none);
    void remote.cancel(2);
    expect(await stopped).toEqual({ ok: false, problem: null });
    expect((await remote.drain(3, asked, new Map(), none)).ok).toBe(true);
  });

  it('answers nothing on a ground that the page has gone on from', async () => {
    await survey(1);
    await survey(2);
    await remote.goOnWith(2);
    const ended = await remote.drain(3, { ground: 1, version: 1, plan }, new Map(), none);
    expect(ended).toEqual({ ok: false, problem: null });
  });

  it('lets mistakes of ours through as errors', async () => {
    const from = { file: 99, verticalUnitM: null };
    await expect(remote.survey(1, from, plan, none)).rejects.toThrow('open file');
  });
});
