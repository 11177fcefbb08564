/**
 * All lots of a street or town at once: what crosses every lot line against building the terrain of the same grid, with few lots
 * and with many, and where each lot's water ends.
 */
import { lotFlux } from '../../lib/drainage/answer/lot-flux';
import { originToEnd } from '../../lib/drainage/answer/origin-to-end';
import { stormFlow } from '../../lib/drainage/storm/kept-water';
import { settleStorm } from '../../lib/drainage/storm/settle-storm';
import { waterSurface } from '../../lib/drainage/storm/water-surface';
import { makeRouting } from '../../lib/drainage/terrain/routing';
import { buildTerrain } from '../../lib/drainage/terrain/terrain';
import { fractalGround } from './fractal-ground';

const rounds = 3;
const fewLots = 100;

function medianMs(work: () => void): number {
  const times = Array.from({ length: rounds }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return times.sort((a, b) => a - b)[Math.floor(rounds / 2)];
}

/** Lots on a lattice, as many as asked or a few more, with a street round each. */
function lattice(side: number, lots: number): { ownerOf: Int32Array; count: number } {
  const across = Math.ceil(Math.sqrt(lots));
  const wide = side / across;
  const ownerOf = Int32Array.from({ length: side * side }, (_, cell) => {
    const [x, y] = [(cell % side) / wide, Math.floor(cell / side) / wide];
    const isStreet = x % 1 < 0.1 || y % 1 < 0.1;
    return isStreet ? -1 : Math.floor(y) * across + Math.floor(x);
  });
  return { ownerOf, count: across * across };
}

export function benchLots(): void {
  const side = 1000;
  const z = fractalGround(side, 7, 0.015);
  const terrainMs = medianMs(() => {
    buildTerrain(z, side, side);
  });
  const routing = makeRouting(buildTerrain(z, side, side));
  const putDown = new Float64Array(z.length).fill(0.02);
  const storm = settleStorm(
    { routing, ground: { conduits: [], pipes: new Map() }, cellM2: 1 },
    putDown.slice(),
    { durationH: 1 },
  );
  const flow = stormFlow(putDown, storm, 1);
  const { depth } = waterSurface(routing.terrain, storm.pools);
  console.log(`\nLots: ${side} by ${side} cells, terrain ${terrainMs.toFixed(0)} ms`);
  let before = 0;
  for (const lots of [10, 100, 1000, 5000]) {
    const { ownerOf, count } = lattice(side, lots);
    const flux = medianMs(() => {
      lotFlux(flow, ownerOf, count, depth);
    });
    const growth = before === 0 ? '' : `, ${(flux / before).toFixed(2)} times that of 10 lots`;
    if (before === 0) before = flux;
    console.log(
      `  ${count} lots: what crosses lines ${flux.toFixed(0)} ms, ${(flux / terrainMs).toFixed(2)} terrains${growth}`,
    );
  }
  // Dear with many lots: each cell's water then has many origins.
  const { ownerOf, count } = lattice(side, fewLots);
  const endsMs = medianMs(() => {
    originToEnd(flow, ownerOf, count, depth);
  });
  console.log(
    `  where the water of ${count} lots ends: ${endsMs.toFixed(0)} ms, ${(endsMs / terrainMs).toFixed(2)} terrains`,
  );
}
