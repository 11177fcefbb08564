import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { layStorm } from '../../../lib/drainage/storm/storm-on-ground';
import { openElevation } from '../../../lib/elevation/file/open-elevation';
import { readWindow } from '../../../lib/elevation/window/read-window';
import { makeFrame } from '../../../lib/frame/frame';
import { ground } from '../../../lib/ground/ground';
import { toLocal } from '../../../lib/plan/local-plan';
import { planArea } from '../../../lib/plan/plan-area';
import { readPlan } from '../../../lib/plan/read-plan';
import { randomFrom } from '../../property/drainage/grounds';
import type { FlowGround } from './shallow-flow';

/** Ground with what is asked of it: how much run-off goes from region to region. */
export interface AskedGround extends FlowGround {
  readonly name: string;
  readonly z: Float32Array;
  readonly isBuilding: Uint8Array;
  /** Number of the region that each cell is in: lots, drains, hollows. */
  readonly region: Uint8Array;
  /** Names of the regions by number. */
  readonly names: readonly string[];
  /** How many of them, the last, are basins and hollows. */
  readonly places: number;
  /** Depth that runs off each cell, metres. */
  readonly runOffM: Float64Array;
}

const runOffM = 0.04;
/** How far buildings stand up for routing, which knows no walls, metres. */
const buildingM = 10;

export interface MadeGround {
  readonly name: string;
  readonly sideM: number;
  /** Metres eastwards and southwards from the north-western corner. */
  readonly heightAt: (x: number, y: number) => number;
  readonly noiseM?: number;
  readonly isBuilding?: (x: number, y: number) => boolean;
  /** Hollows, or basins without a bottom: places by name that swallow what comes. */
  readonly drains?: Readonly<Record<string, Disc>>;
  readonly hollows?: Readonly<Record<string, Disc>>;
}

interface Disc {
  readonly x: number;
  readonly y: number;
  readonly radiusM: number;
}

/** Lots, three by three, named for where they lie. */
const lotNames = ['NW', 'N', 'NE', 'W', 'middle', 'E', 'SW', 'S', 'SE'];

/**
 * Cuts a made ground into cells.
 *
 * @param parts - into so many by so many cells each cell of a metre is cut; drains and hollows keep the outlines that
 *   they have in cells of a metre.
 */
export function askedGround(made: MadeGround, parts = 1): AskedGround {
  const {
    name,
    sideM,
    heightAt,
    noiseM = 0,
    isBuilding: isBuilt,
    drains = {},
    hollows = {},
  } = made;
  const width = sideM * parts;
  const random = randomFrom(11);
  const centre = (index: number): number => Math.floor(index / parts) + 0.5;
  const cells = <T>(value: (x: number, y: number, i: number) => T): T[] =>
    Array.from({ length: width * width }, (_, i) => value(i % width, Math.floor(i / width), i));
  const isBuilding = Uint8Array.from(
    cells((column, row) => (isBuilt?.(centre(column), centre(row)) === true ? 1 : 0)),
  );
  const z = Float32Array.from(
    cells((column, row, i) => {
      const noise = noiseM * (2 * random() - 1);
      const height = heightAt((column + 0.5) / parts, (row + 0.5) / parts);
      return 20 + (isBuilding[i] === 1 ? buildingM : height + noise);
    }),
  );
  const third = (metres: number): number => Math.floor((3 * metres) / sideM);
  const region = Uint8Array.from(
    cells((column, row) => third(centre(column)) + 3 * third(centre(row))),
  );
  const names = [...lotNames];
  const places = { ...drains, ...hollows };
  for (const [place, { x, y, radiusM }] of Object.entries(places)) {
    for (let i = 0; i < region.length; i++) {
      const away = Math.hypot(centre(i % width) - x, centre(Math.floor(i / width)) - y);
      if (away < radiusM) region[i] = names.length;
    }
    names.push(place);
  }
  const lastDrain = lotNames.length + Object.keys(drains).length;
  const isDrain = region.map((number) => (number >= lotNames.length && number < lastDrain ? 1 : 0));
  openDrains(z, isDrain, width);
  const runOff = Float64Array.from(isBuilding, (built, i) =>
    built === 1 || Number.isNaN(z[i]) ? 0 : runOffM,
  );
  return {
    name,
    width,
    height: width,
    cellM: 1 / parts,
    z,
    isBuilding,
    region,
    names,
    places: Object.keys(places).length,
    runOffM: runOff,
  };
}

/** Takes the data out of cells that drain and whose neighbours all do: what comes to the others then leaves the map. */
export function openDrains(z: Float32Array, isDrain: Uint8Array, width: number): void {
  for (let i = 0; i < z.length; i++) {
    let isInner = isDrain[i] === 1;
    for (let y = -1; y <= 1; y++) {
      for (let x = -1; x <= 1; x++) isInner &&= isDrain[i + y * width + x] === 1;
    }
    if (isInner) z[i] = Number.NaN;
  }
}

/** A plane that falls towards a bearing clockwise from east. */
function plane(slope: number, degrees: number): (x: number, y: number) => number {
  const right = Math.cos((degrees * Math.PI) / 180);
  const down = Math.sin((degrees * Math.PI) / 180);
  return (x, y) => slope * (80 - x * right - y * down);
}

/** Depth of a dish below its brim, metres. */
function dish(
  x: number,
  y: number,
  { x: middleX, y: middleY, radiusM }: Disc,
  deepM: number,
): number {
  const part = Math.hypot(x - middleX, y - middleY) / radiusM;
  return Math.max(0, deepM * (1 - part * part));
}

const sideM = 66;
const twoBasins = {
  'basin west': { x: 24, y: 40, radiusM: 2.6 },
  'basin east': { x: 51, y: 47, radiusM: 3.4 },
};
const upper = { x: 26, y: 24, radiusM: 6 };
const lower = { x: 44, y: 37, radiusM: 7 };

/** Smooth grounds: cut finer they are the same grounds. */
export const smoothGrounds: readonly MadeGround[] = [
  { name: 'plane at 27 degrees, 3 %', sideM, heightAt: plane(0.03, 27), drains: twoBasins },
  { name: 'plane at 68 degrees, 8 %', sideM, heightAt: plane(0.08, 68), drains: twoBasins },
  {
    name: 'cone',
    sideM,
    heightAt: (x, y) => 4 - 0.04 * Math.hypot(x - 18.3, y - 15.6),
    drains: twoBasins,
  },
  {
    name: 'dome',
    sideM,
    heightAt: (x, y) => 4 - 8e-4 * ((x - 20.3) ** 2 + (y - 24.6) ** 2),
    drains: twoBasins,
  },
  {
    name: 'valley',
    sideM,
    // the bottom, rounded, runs to the south-east; the sides fall to it
    heightAt: (x, y) => {
      const across = (x - y) * Math.SQRT1_2 + 5;
      return 0.02 * (90 - x - y) + 0.05 * Math.hypot(across, 2);
    },
    drains: { 'basin in the valley': { x: 42, y: 48, radiusM: 3.4 } },
  },
  {
    name: 'ridge',
    sideM,
    heightAt: (x, y) => {
      const across = (x - 31.2) * Math.cos(0.35) + (y - 33) * Math.sin(0.35);
      return 3 - 0.05 * Math.hypot(across, 1.5) - 0.012 * y;
    },
    drains: twoBasins,
  },
  {
    name: 'hollow that spills into another',
    sideM,
    heightAt: (x, y) => plane(0.025, 35)(x, y) - dish(x, y, upper, 0.35) - dish(x, y, lower, 0.9),
    hollows: { 'upper hollow': upper, 'lower hollow': lower },
  },
  {
    name: 'swale across a slope',
    sideM,
    heightAt: (x, y) => {
      const across = y - 34 - 0.12 * x - 3 * Math.sin(x / 14);
      return 0.03 * (66 - y) + 0.008 * (66 - x) - 0.35 * Math.exp(-((across / 2.5) ** 2));
    },
    drains: { 'basin east': { x: 54, y: 43, radiusM: 3.4 } },
  },
];

/** Grounds that are what they are in cells of a metre only. */
export const roughGrounds: readonly MadeGround[] = [
  {
    name: 'plane at 27 degrees, noise of 2 cm',
    sideM,
    heightAt: plane(0.03, 27),
    noiseM: 0.02,
    drains: twoBasins,
  },
  {
    name: 'cone, noise of 5 mm',
    sideM,
    heightAt: (x, y) => 4 - 0.04 * Math.hypot(x - 18.3, y - 15.6),
    noiseM: 0.005,
    drains: twoBasins,
  },
  {
    name: 'terrace behind a wall, with a house',
    sideM,
    heightAt: (x, y) => {
      const isWall = y >= 38 && y < 39 && x >= 8 && x < 50;
      return plane(0.025, 63)(x, y) + (y < 38 ? 0.5 : 0) + (isWall ? 0.7 : 0);
    },
    isBuilding: (x, y) => x > 25 && x < 37 && y > 17 && y < 27,
    drains: { 'basin below': { x: 53, y: 52, radiusM: 3.4 } },
  },
];

const fixture = (name: string) =>
  readFileSync(new URL(`../../../fixtures/demo/${name}`, import.meta.url));

/** The demo lot with its storm, in cells of a metre; roofs give nothing. */
export async function demoGround(): Promise<AskedGround> {
  const { plan } = readPlan(fixture('lot.plan.geojson').toString(), 'lot.plan.geojson');
  const file = await openElevation({
    name: 'demo',
    blob: new Blob([fixture('lot.elevation.tif')]),
  });
  const { grid } = await readWindow(file, { area: planArea(plan) ?? [0, 0, 0, 0], marginM: 25 });
  const local = toLocal(plan, makeFrame(grid.frame));
  const built = ground(grid, local);
  const { runOffM: fine } = layStorm(built, local, 40);
  const names = ['other', ...built.lots.map(({ id }) => id)];
  const numbers = Uint8Array.from(built.lotOf, (lot) => lot + 1);
  const coarse = coarsen(built.grid.z, built.obstacle, fine, numbers, grid.width, grid.height);
  return { name: 'the demo lot', cellM: 1, names, places: 0, ...coarse };
}

/** Means of two by two cells; a building where two of them or more are. */
function coarsen(
  z: Float32Array,
  isBuilt: Uint8Array,
  runOff: Float64Array,
  region: Uint8Array,
  fineWidth: number,
  fineHeight: number,
): Omit<AskedGround, 'name' | 'names' | 'places' | 'cellM'> {
  const width = Math.floor(fineWidth / 2);
  const height = Math.floor(fineHeight / 2);
  const size = width * height;
  const result = {
    width,
    height,
    z: new Float32Array(size),
    isBuilding: new Uint8Array(size),
    runOffM: new Float64Array(size),
    region: new Uint8Array(size),
  };
  for (let i = 0; i < size; i++) {
    const first = 2 * Math.floor(i / width) * fineWidth + 2 * (i % width);
    const four = [first, first + 1, first + fineWidth, first + fineWidth + 1];
    const open = four.filter((cell) => isBuilt[cell] === 0);
    result.region[i] = region[first];
    if (open.length <= 2) {
      result.isBuilding[i] = 1;
      result.z[i] = 200;
      continue;
    }
    result.z[i] = open.reduce((sum, cell) => sum + z[cell], 0) / open.length;
    result.runOffM[i] = Number.isNaN(result.z[i])
      ? 0
      : open.reduce((sum, cell) => sum + runOff[cell], 0) / 4;
  }
  return result;
}

const data = process.env.LOTFALL_DATA;
/** Whether the folder with real rasters is named and there. */
export const hasRealGrounds = data !== undefined && existsSync(join(data, 'montpellier_50cm'));

/** Windows of real rasters in cells of a metre, in lots three by three. */
export async function realGrounds(): Promise<AskedGround[]> {
  const street = await realWindow(
    'street, lidar at 0.5 m',
    join('montpellier_50cm', 'dtm_050_filled.tif'),
    45,
    2,
  );
  const hill = await realWindow(
    'hill, lidar at 1 m',
    join('encodings', 'real_samples', 'nz_1m_dem_BS28_1000_1141.tif'),
    45,
    1,
  );
  return [street, hill];
}

async function realWindow(
  name: string,
  path: string,
  halfM: number,
  parts: 1 | 2,
): Promise<AskedGround> {
  const file = await openElevation({ name: path, path: join(data ?? '', path) });
  const { layout, mapping } = file.raster;
  const middle = mapping.toLngLat([layout.width / 2, layout.height / 2]);
  const { grid } = await readWindow(file, { area: [[middle]], marginM: halfM });
  const none = new Uint8Array(grid.z.length);
  const rain = Float64Array.from(grid.z, (z) => (Number.isNaN(z) ? 0 : runOffM));
  const cut =
    parts === 2
      ? coarsen(grid.z, none, rain, none, grid.width, grid.height)
      : { width: grid.width, height: grid.height, z: grid.z, isBuilding: none, runOffM: rain };
  const third = (index: number, count: number): number =>
    Math.min(2, Math.floor((3 * index) / count));
  const region = Uint8Array.from(
    cut.z,
    (_, i) => third(i % cut.width, cut.width) + 3 * third(Math.floor(i / cut.width), cut.height),
  );
  return { name, cellM: 1, names: lotNames, places: 0, ...cut, region };
}
