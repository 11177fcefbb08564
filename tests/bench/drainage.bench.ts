import { pathToFileURL } from 'node:url';
import { accumulate } from '../../lib/drainage/terrain/accumulate';
import { labelCatchments } from '../../lib/drainage/terrain/catchments';
import { contributingShare } from '../../lib/drainage/terrain/contributing-share';
import { flowDirections } from '../../lib/drainage/terrain/flow-directions';
import { buildLowSpotTree } from '../../lib/drainage/terrain/low-spot-tree';
import { neighbourOffsets } from '../../lib/drainage/terrain/neighbours';
import { findPasses } from '../../lib/drainage/terrain/passes';
import { pondingAt, poolsAt, readyForRain } from '../../lib/drainage/storm/ponding';
import { pondingOutlines } from '../../lib/drainage/answer/ponding-outlines';
import { makeRouting, type Routing } from '../../lib/drainage/terrain/routing';
import { settleStorm, type SettledStorm } from '../../lib/drainage/storm/settle-storm';
import { shapeGround } from '../../lib/drainage/storm/shaped-ground';
import { specificCatchmentArea, spreadFlow } from '../../lib/drainage/terrain/spread-flow';
import { steepestDescent } from '../../lib/drainage/terrain/steepest-descent';
import { buildTerrain } from '../../lib/drainage/terrain/terrain';
import { lowSpotVolumes } from '../../lib/drainage/terrain/volumes';
import { pondCells, waterSurface } from '../../lib/drainage/storm/water-surface';
import { Workspace } from '../../lib/drainage/terrain/workspace';
import { benchedLot } from './benched-lot';
import { fractalGround } from './fractal-ground';

/** Median time in milliseconds of each stage. */
type Times = Map<string, number>;

const PLAIN_PASS = 'plain pass: out[i] = z[i] * 1.5';
/** Noise of the grounds: a stress case, and one nearer to real ground. */
const ROUGH_M = 0.03;
const FINE_M = 0.015;
const SMOOTH_M = 0.005;
/** Stages whose name starts with this are parts of the one above. */
const PART = '  ';

/** Runs all stages in turn, several rounds, so that disturbances fall on all alike. */
function timesOf(side: number, noiseM: number, rounds: number): { times: Times; bytes: string } {
  const z = fractalGround(side, 7, noiseM);
  const size = z.length;
  const samples = new Map<string, number[]>();
  const timed = <T>(name: string, run: () => T): T => {
    const start = performance.now();
    const result = run();
    const list = samples.get(name) ?? [];
    list.push(performance.now() - start);
    samples.set(name, list);
    return result;
  };

  const workspace = new Workspace();
  const parts = new Workspace();
  const out = new Float32Array(size);
  const share = new Float64Array(size);
  const sums = new Float64Array(size);
  const runOff = new Float64Array(size).fill(0.02);
  let bytes = '';
  for (let round = 0; round < rounds; round++) {
    timed(PLAIN_PASS, () => {
      for (let i = 0; i < size; i++) out[i] = z[i] * 1.5;
    });
    const terrain = timed('terrain: fill, tree, volumes', () =>
      buildTerrain(z, side, side, { workspace }),
    );
    if (round === 0) bytes = `${perCell(workspace.bytes, size)} bytes a cell for the terrain`;

    const receiver = parts.uint8('receiver', size);
    const label = parts.int32('label', size);
    const lower = parts.uint8('lower', size);
    const lists = parts.int32('lists', size);
    const counts = timed(`${PART}steepest descent`, () =>
      steepestDescent(z, side, side, parts, receiver, lower, label, lists),
    );
    timed(`${PART}catchments`, () => {
      labelCatchments(receiver, neighbourOffsets(side), label);
    });
    const cells = lists.subarray(0, counts.passCells);
    const passes = timed(`${PART}passes`, () =>
      findPasses(z, side, side, receiver, lower, label, cells, parts),
    );
    const tree = timed(`${PART}tree of low spots`, () =>
      buildLowSpotTree(passes, terrain.tree.pitCells, parts),
    );
    timed(`${PART}volumes`, () => lowSpotVolumes(z, label, terrain.fillLevel, tree, parts));

    const directions = timed('single-flow directions', () =>
      flowDirections({ heights: terrain.filled, width: side, height: side }, workspace, 'benched'),
    );
    timed('single-flow accumulation', () => accumulate(directions, side, undefined, sums));
    const routing = timed('routing: directions and order', () => makeRouting(terrain, 0.25));
    timed('multiple flow', () => spreadFlow(routing, undefined, sums));
    timed('specific catchment area', () => specificCatchmentArea(routing, sums, 0.5, out));
    const middle = Math.floor(size / 2);
    timed('contributing share', () => contributingShare(routing, [middle], share));
    if (round === 0) bytes += `, ${perCell(workspace.bytes, size)} with routing, 4 for the heights`;

    const { pools } = timed('new storm by cell', () => settled(routing, runOff));
    timed('cells of ponds', () => pondCells(terrain));
    timed('water surface', () => waterSurface(terrain, pools, out));
  }
  const times: Times = new Map();
  for (const [name, list] of samples) times.set(name, median(list));
  return { times, bytes };
}

/** The whole chain for a lot of 250 m at half a metre, and what a click on the map takes. */
function timesOfLot(): string {
  const side = 500;
  const z = fractalGround(side, 3, ROUGH_M);
  const workspace = new Workspace();
  const depth = new Float32Array(z.length);
  const share = new Float64Array(z.length);
  const runOff = new Float64Array(z.length).fill(0.02);
  const chain: number[] = [];
  const click: number[] = [];
  for (let round = 0; round < 15; round++) {
    const start = performance.now();
    const terrain = buildTerrain(z, side, side, { workspace });
    const routing = makeRouting(terrain, 0.25);
    const { pools } = settled(routing, runOff);
    waterSurface(terrain, pools, depth);
    chain.push(performance.now() - start);
    const before = performance.now();
    contributingShare(routing, [Math.floor(z.length / 2)], share);
    click.push(performance.now() - before);
  }
  return (
    `500 x 500 cells: ${median(chain).toFixed(1)} ms for terrain, routing, storm and water surface; ` +
    `${median(click).toFixed(1)} ms for a contributing share on prepared routing`
  );
}

/** What one step of the rain slider takes on a million cells, from dry to 200 mm, on ground of some roughness. */
function timesOfSlider(noiseM: number): string {
  const side = 1000;
  const { elevation, plan } = benchedLot(side);
  const z = fractalGround(side, 7, noiseM);
  const shape = shapeGround({ ...elevation, z }, plan);
  const started = performance.now();
  const ready = readyForRain(shape, plan);
  const readyMs = performance.now() - started;
  const depth = new Float32Array(z.length);
  const samples = new Map<string, number[]>();
  const timed = <T>(name: string, run: () => T): T => {
    const start = performance.now();
    const result = run();
    samples.set(name, [...(samples.get(name) ?? []), performance.now() - start]);
    return result;
  };
  for (let step = 0; step <= 40; step++) {
    const rainMm = step * 5;
    timed('plain', () => {
      for (let i = 0; i < z.length; i++) depth[i] = z[i] * 1.5;
    });
    timed('pools alone', () => poolsAt(ready, plan, rainMm));
    timed('with depths', () => pondingAt(ready, plan, rainMm, depth));
    timed('outlines besides', () => pondingOutlines(shape, depth));
  }
  const plain = median(samples.get('plain') ?? []);
  const parts = ['pools alone', 'with depths', 'outlines besides'].map((name) => {
    const list = samples.get(name) ?? [];
    return `${name} ${median(list).toFixed(1)} ms (${(median(list) / plain).toFixed(1)} passes; slowest ${Math.max(...list).toFixed(1)} ms)`;
  });
  return `another depth of rain on 1 M cells with ${noiseM * 100} cm of noise: ${parts.join(', ')}; ${readyMs.toFixed(0)} ms once to be ready`;
}

/** A storm on bare ground, without drains. */
function settled(routing: Routing, runOff: Float64Array): SettledStorm {
  const ground = { conduits: [], pipes: new Map() };
  return settleStorm({ routing, ground, cellM2: 0.25 }, runOff, { durationH: 1 });
}

function median(values: number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];
}

function perCell(bytes: number, size: number): string {
  return (bytes / size).toFixed(1);
}

/**
 * Measures every drainage stage at 1, 4 and 16 million cells (or the sides given), on a rough and a
 * finer ground, and prints tables: million cells a second, the ratio to a plain pass in the same
 * run, and the exponent by which time grows with the number of cells from the smallest to the
 * largest. Judges nothing.
 */
export function benchDrainage(sides: readonly number[] = [1000, 2000, 4000]): void {
  console.log(timesOfLot());
  for (const noiseM of [ROUGH_M, FINE_M, SMOOTH_M]) console.log(timesOfSlider(noiseM));
  printTable(sides, ROUGH_M);
  printTable(sides, FINE_M);
}

function printTable(sides: readonly number[], noiseM: number): void {
  const results = sides.map((side) => ({
    side,
    ...timesOf(side, noiseM, side <= 1000 ? 9 : side <= 2000 ? 5 : 3),
  }));
  console.log(`\nGround with ${noiseM * 100} cm of noise`);
  for (const { side, bytes } of results) console.log(`${side} x ${side} cells: ${bytes}`);
  const heads = sides.map((side) => `${(side * side) / 1e6} M`);
  console.log(
    'stage'.padEnd(34) +
      heads.map((head) => head.padStart(9) + ' M/s' + '  passes').join('') +
      '   growth',
  );
  const [first] = results;
  const last = results[results.length - 1];
  for (const name of first.times.keys()) {
    const columns = results.map(({ side, times }) => {
      const ms = times.get(name) ?? Number.NaN;
      const plain = times.get(PLAIN_PASS) ?? Number.NaN;
      const speed = (side * side) / ms / 1000;
      return speed.toFixed(1).padStart(13) + (ms / plain).toFixed(1).padStart(8);
    });
    const ratio = (last.times.get(name) ?? Number.NaN) / (first.times.get(name) ?? Number.NaN);
    const growth = Math.log(ratio) / Math.log(last.side ** 2 / first.side ** 2);
    console.log(name.padEnd(34) + columns.join('') + growth.toFixed(2).padStart(9));
  }
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) benchDrainage();
