import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect } from 'vitest';
import type { LngLat } from '../../lib/frame/frame';
import { main } from '../../src/cli/main';
import { lngLatAt } from '../unit/elevation/plane';

const root = fileURLToPath(new URL('../../', import.meta.url));
const program = join(root, 'src/cli/lotfall.js');

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

/** What a run of the command leaves. */
export interface Run {
  readonly status: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the command in this process, where what it needs is loaded once for a whole file of tests. */
export async function lotfall(...args: readonly string[]): Promise<Run> {
  let stdout = '';
  let stderr = '';
  const status = await main(args, {
    print: (text) => (stdout += text),
    fault: (text) => (stderr += text),
    progress: () => undefined,
    done: () => undefined,
  });
  return { status, stdout, stderr };
}

/** Runs the command as a user does, in a process of its own. */
export function lotfallProcess(...args: readonly string[]): Promise<Run> {
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      [program, ...args],
      { maxBuffer: 64 * 1024 * 1024 },
      (error, stdout, stderr) => {
        resolve({ status: error === null ? 0 : Number(error.code), stdout, stderr });
      },
    );
  });
}

/** Runs several at once and keeps their order. */
export function lotfalls(...calls: readonly (readonly string[])[]): Promise<Run[]> {
  return Promise.all(calls.map((args) => lotfall(...args)));
}

/** Asserts a refusal: status 2, nothing on standard output, one sentence that holds all the given parts. */
export function expectRefused(run: Run, ...parts: readonly (string | RegExp)[]): void {
  expect(run).toMatchObject({ status: 2, stdout: '' });
  expect(run.stderr.trimEnd()).toMatch(/^[^\n]+: [^\n]+; [^\n]+[^.]\.$/);
  for (const part of parts) expect(run.stderr).toMatch(part);
}

/** The one JSON document that a run printed. */
export function documentOf({ stdout, stderr }: Run): unknown {
  expect(stderr).toBe('');
  return JSON.parse(stdout);
}

/** A folder that goes when the tests of the file are done. */
export function temporaryFolder(): (name: string) => string {
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

/** Every number of a document, with the path to it. */
export function numbersIn(value: unknown, path = ''): [string, number][] {
  if (typeof value === 'number') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, part]) => numbersIn(part, `${path}.${key}`));
}

/** Every name of a member in a document. */
export function namesIn(value: unknown): Set<string> {
  const names = new Set<string>();
  const visit = (part: unknown): void => {
    if (typeof part !== 'object' || part === null) return;
    for (const [key, inner] of Object.entries(part)) {
      if (!Array.isArray(part)) names.add(key);
      visit(inner);
    }
  };
  visit(value);
  return names;
}
