import { describe, expect, it } from 'vitest';
import { cornerAndCell, writeRaster } from '../../../fixtures/broken/tiff';
import { surveyLot, type Survey, type SurveyOptions } from '../../../lib/drainage/storm/survey-lot';
import { type ElevationFile, openElevation } from '../../../lib/elevation/file/open-elevation';
import type { LngLat } from '../../../lib/frame/frame';
import { planArea, planOutline } from '../../../lib/plan/plan-area';
import { readPlan } from '../../../lib/plan/read-plan';
import type { Plan } from '../../../lib/plan/schema';
import { EAST, lngLatAt, NORTH, planeM, UTM_KEYS } from '../elevation/plane';

/** A raster of the plane, which falls to the south-west: one-metre cells, so many metres to each side of the middle. */
async function planeAround(reachM: number): Promise<ElevationFile> {
  const [west, north] = [EAST - reachM, NORTH + reachM];
  const bytes = writeRaster({
    width: 2 * reachM,
    height: 2 * reachM,
    z: (column, row) => planeM(west + column + 0.5, north - row - 0.5),
    place: cornerAndCell(west, north, 1),
    keys: UTM_KEYS,
  });
  return openElevation({ name: 'plane.tif', blob: new Blob([bytes]) });
}

/** A lot of these corners, in metres from the middle of the plane. */
function lotOf(...corners: readonly (readonly [number, number])[]): Plan {
  const ring = corners.map(([e, n]): LngLat => lngLatAt(EAST + e, NORTH + n));
  const lot = {
    type: 'Feature',
    id: 'lot',
    properties: { kind: 'lot', own: true },
    geometry: { type: 'Polygon', coordinates: [[...ring, ring[0]]] },
  };
  const document = { type: 'FeatureCollection', lotfall: { version: 1 }, features: [lot] };
  return readPlan(JSON.stringify(document), 'lot').plan;
}

const square = lotOf([-10, -10], [10, -10], [10, 10], [-10, 10]);

async function surveyed(reachM: number, options: Partial<SurveyOptions> = {}): Promise<Survey> {
  const file = await planeAround(reachM);
  return surveyLot(file, square, { area: planOutline(square) ?? [], ...options });
}

function textOf({ elevation }: Survey, code: string): string | undefined {
  return elevation.notes.find((note) => note.code === code)?.text;
}

describe('reading on outwards', () => {
  it('says that the data end only where they do', async () => {
    const survey = await surveyed(130);
    expect(survey.elevation.grid.width).toBe(260);
    expect(textOf(survey, 'cut-by-data')).toMatch(/reaches the edge of the elevation data/);
    expect(textOf(survey, 'cut-by-limit')).toBeUndefined();
  });

  it('reads as far as the limit of cells allows, and names it', async () => {
    const survey = await surveyed(130, { mostCells: 40_000 });
    const { grid, edges, marginM } = survey.elevation;
    expect([grid.width, grid.height]).toEqual([200, 200]);
    expect(marginM).toBeCloseTo(90, 0);
    expect(edges).toEqual({ north: 'limit', east: 'limit', south: 'limit', west: 'limit' });
    expect(textOf(survey, 'cut-by-data')).toBeUndefined();
    expect(textOf(survey, 'cut-by-limit')).toMatch(
      /runs on beyond the \d\d m around it that were read: 40000 cells, the most/,
    );
  });
});

describe('a lot inside the data', () => {
  it('is read though its box in degrees reaches beyond them', async () => {
    const inset = 39.8;
    const wide = lotOf([-inset, -inset], [inset, -inset], [inset, inset], [-inset, inset]);
    const file = await planeAround(40);
    const box = planArea(wide);
    if (box === null) throw new Error('the lot has a box');
    await expect(surveyLot(file, wide, { area: box })).rejects.toMatchObject({
      code: 'elevation-not-covering',
    });
    const { elevation } = await surveyLot(file, wide, { area: planOutline(wide) ?? [] });
    expect([elevation.grid.width, elevation.grid.height]).toEqual([80, 80]);
    expect(elevation.notes.map(({ code }) => code)).not.toContain('area-without-data');
  });
});
