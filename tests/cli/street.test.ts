import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { ReviewResult, ReviewedLot } from '../../lib/review/review-result';
import { save, tempFolder, type PlanJson } from './inputs';
import { documentOf, lotfall } from './run-lotfall';

const at = tempFolder();
const folder = new URL('../../fixtures/street/', import.meta.url);
const elevation = fileURLToPath(new URL('street.elevation.tif', folder));

/** The street with some of its gardens alone. */
async function reviewed(
  gardens: readonly string[],
  ...options: readonly string[]
): Promise<{ status: number; result: ReviewResult }> {
  const plan = JSON.parse(readFileSync(new URL('street.plan.geojson', folder), 'utf8')) as PlanJson;
  plan.features = plan.features.filter(
    ({ id, properties }) => properties['kind'] !== 'basin' || gardens.includes(id),
  );
  const run = await lotfall(
    ...['review', save(at(`${gardens.join('-')}.plan.geojson`), plan), '-e', elevation, '--json'],
    ...options,
  );
  return { status: run.status, result: documentOf(run) as ReviewResult };
}

function lotOf({ lots }: ReviewResult, number: number): ReviewedLot {
  const found = lots.find(({ lot }) => lot === `lot-${number}`);
  if (found === undefined) throw new Error(`no lot ${number}`);
  return found;
}

const depthAt = (lot: ReviewedLot, state: 'before' | 'after'): number =>
  lot[state]?.wet_buildings[0]?.depth_m ?? 0;

describe('the demo street', () => {
  it('has three gardens that help the lots below them and harm nobody', async () => {
    const { status, result } = await reviewed(['garden-2', 'garden-3', 'garden-12'], '--origins');
    expect(status).toBe(0);
    expect(result.whole).toMatchObject({ lots: 16, whole: 16, cut: 0, outside: 0 });
    expect(result.lots.flatMap(({ worse }) => worse)).toEqual([]);
    // all that runs off a lot ends somewhere
    for (const { lot, after } of result.lots) {
      const ended = (result.origins ?? [])
        .filter(({ from }) => from === lot)
        .reduce((sum, { volume_m3 }) => sum + volume_m3, 0);
      const ranOff = (after?.rain_m3 ?? 0) - (after?.soaked_m3 ?? 0) - (after?.barrel_m3 ?? 0);
      expect(ended).toBeCloseTo(ranOff, 1);
    }
    for (const below of [4, 5, 14]) {
      const { before, after } = lotOf(result, below);
      expect(after?.from_lots_m3).toBeLessThan((before?.from_lots_m3 ?? 0) - 2);
    }
    for (const { before, after } of result.lots) {
      expect(before?.error_m3).toBeCloseTo(0, 9);
      expect(after?.error_m3).toBeCloseTo(0, 9);
    }
  });

  it('has one that makes water stand deeper by the house of a neighbour', async () => {
    const { status, result } = await reviewed(['garden-9'], '--certainty', '--surfaces', '4');
    expect(status).toBe(1);
    expect(result.tried).toMatchObject({ surfaces: 4 });
    const { certainty } = lotOf(result, 11);
    expect(certainty?.worse).toBeGreaterThanOrEqual(0.5);
    expect(certainty?.worse_beyond_error).toBe(certainty?.worse === 1);
    expect(certainty?.wet_after).toBe(1);
    // what no garden lies above is as it was on every surface
    expect(lotOf(result, 1).certainty).toMatchObject({ worse: 0, worse_beyond_error: false });
    expect(lotOf(result, 11).worse.join('; ')).toMatch(/water by House 11 \d cm deeper/);
  });

  it('has two that help the house below only together', async () => {
    const [street, back, both] = await Promise.all([
      reviewed(['garden-6-north']),
      reviewed(['garden-6-south']),
      reviewed(['garden-6-north', 'garden-6-south']),
    ]);
    const fallOf = ({ result }: { result: ReviewResult }): number =>
      depthAt(lotOf(result, 8), 'before') - depthAt(lotOf(result, 8), 'after');
    expect(fallOf(street)).toBeLessThan(0.01);
    expect(fallOf(back)).toBeLessThan(0.01);
    expect(fallOf(both)).toBeGreaterThan(0.05);
    for (const { status } of [street, back, both]) expect(status).toBe(0);
  });

  it('names the two as the best, and the one that harms last', async () => {
    const gardens = ['garden-9', 'garden-6-north', 'garden-6-south'];
    const { result } = await reviewed(gardens, '--garden-area', '160m2');
    expect(result.gardens?.alone.at(-1)).toMatchObject({ garden: 'garden-9' });
    expect(result.gardens?.alone.at(-1)?.harms.join('; ')).toMatch(/Teasel Row 11/);
    expect([...(result.gardens?.best?.gardens ?? [])].sort()).toEqual(gardens.slice(1));
    expect(result.gardens?.best).toMatchObject({ exhaustive: true });
  });
});
