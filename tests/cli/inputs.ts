import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';
import type { LngLat } from '../../lib/frame/frame';
import { lngLatAt } from '../unit/elevation/plane';

const root = fileURLToPath(new URL('../../', import.meta.url));

export const demoPlan = join(root, 'fixtures/demo/lot.plan.geojson');
export const demoElevation = join(root, 'fixtures/demo/lot.elevation.tif');

/** A raster among the odd and broken ones. */
export function broken(name: string): string {
  return join(root, 'fixtures/broken', name);
}

/** A plan among the odd and broken ones. */
export function oddPlan(name: string): string {
  return join(root, 'fixtures/plans', name);
}

/** A folder that goes when the tests of the file are done. */
export function tempFolder(): (name: string) => string {
  const folder = mkdtempSync(join(tmpdir(), 'lotfall-test-'));
  afterAll(() => {
    rmSync(folder, { recursive: true });
  });
  return (name) => join(folder, name);
}

interface Feature {
  id: string;
  type: 'Feature';
  properties: Record<string, unknown>;
  geometry: { type: string; coordinates: unknown };
}

/** A plan as JSON, free to be changed. */
export interface PlanJson {
  type: 'FeatureCollection';
  lotfall: Record<string, unknown>;
  features: Feature[];
}

export function readDemoPlan(): PlanJson {
  return JSON.parse(readFileSync(demoPlan, 'utf8')) as PlanJson;
}

export function featureOf(plan: PlanJson, id: string): Feature {
  const found = plan.features.find((feature) => feature.id === id);
  if (found === undefined) throw new Error(`no feature ${id}`);
  return found;
}

/** Writes a plan and hands back its path. */
export function save(path: string, plan: PlanJson): string {
  writeFileSync(path, JSON.stringify(plan));
  return path;
}

/** A plan of one bare lot with these corners. */
export function bareLot(corners: readonly LngLat[]): PlanJson {
  return {
    type: 'FeatureCollection',
    lotfall: { version: 1, name: 'Bare lot' },
    features: [
      {
        type: 'Feature',
        id: 'lot',
        properties: { kind: 'lot', own: true },
        geometry: { type: 'Polygon', coordinates: [[...corners, corners[0]]] },
      },
    ],
  };
}

/** A square lot on the ground of the broken rasters, by its south-west corner in metres from theirs. */
export function squareLot(eastM: number, northM: number, sideM: number): PlanJson {
  const corner = (e: number, n: number): LngLat =>
    lngLatAt(320_000 + eastM + e * sideM, 4_300_000 + northM + n * sideM);
  return bareLot([corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)]);
}
