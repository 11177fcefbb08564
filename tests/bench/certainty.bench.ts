import { pathToFileURL } from 'node:url';
import { certainty, prepareCertainty, type CertaintyInput } from '../../lib/drainage/certainty';
import { errorsOf } from '../../lib/drainage/error-defaults';
import { addError } from '../../lib/drainage/error-field';
import { buildTerrain } from '../../lib/drainage/terrain';
import { Workspace } from '../../lib/drainage/workspace';
import { ground } from '../../lib/ground/ground';
import { box, frame, lineFeature, planOf, polygonFeature } from '../unit/ground/plane-lot';
import { fractalGround } from './fractal-ground';

const surfaces = 100;

/** A lot with two neighbours, a house, a basin, a wall and a swale on half-metre cells. */
function inputOf(side: number): CertaintyInput {
  // Nearly smooth: the error is still to come.
  const z = fractalGround(side, 3, 0.005);
  const cellM = 0.5;
  const edgeM = side * cellM;
  const at = edgeM * 0.4;
  const plan = planOf([
    polygonFeature('own', box(at, at, at + 30, at + 45), { kind: 'lot', own: true }),
    polygonFeature('east', box(at + 30, at, at + 60, at + 45), { kind: 'lot', own: false }),
    polygonFeature('house', box(at + 8, at + 10, at + 20, at + 22), { kind: 'building' }),
    polygonFeature('roof', box(at + 7.5, at + 9.5, at + 20.5, at + 22.5), { kind: 'roof' }),
    polygonFeature('basin', box(at + 10, at + 30, at + 14, at + 34), { kind: 'basin' }),
    lineFeature(
      'wall',
      [
        [at + 1, at + 1],
        [at + 1, at + 40],
      ],
      { kind: 'wall' },
    ),
    lineFeature(
      'swale',
      [
        [at + 22, at + 2],
        [at + 22, at + 40],
      ],
      { kind: 'swale' },
    ),
  ]);
  const elevation = {
    width: side,
    height: side,
    cellM,
    westM: 0,
    northM: edgeM,
    z,
    datumM: 100,
    frame: frame.spec,
  };
  return { elevation, plan, rainMm: 50, errors: errorsOf(cellM), seed: 1 };
}

function timed(run: () => unknown): number {
  const start = performance.now();
  run();
  return performance.now() - start;
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];
}

/** Prints what a hundred equally likely surfaces take, by part and in all, at 250, 500 and 1000 cells a side. Judges nothing. */
export function benchCertainty(sides: readonly number[] = [250, 500, 1000]): void {
  for (const side of sides) {
    const input = inputOf(side);
    const { elevation, plan, errors, seed } = input;
    const workspace = new Workspace();
    const z = new Float32Array(elevation.z.length);
    const noise: number[] = [];
    const grounds: number[] = [];
    const terrains: number[] = [];
    for (let index = 0; index < 12; index++) {
      noise.push(
        timed(() => {
          addError(elevation, errors, { seed, index }, z, workspace, 2);
        }),
      );
      let built = elevation;
      grounds.push(timed(() => (built = ground({ ...elevation, z }, plan).grid)));
      terrains.push(timed(() => buildTerrain(built.z, side, side, { workspace })));
    }
    const prepare = timed(() => prepareCertainty(input));
    const study = prepareCertainty(input);
    const all = timed(() => certainty(study, { from: 0, to: surfaces }));
    console.log(
      `${side} x ${side} cells, ${surfaces} surfaces: ${(all / 1000).toFixed(2)} s on one thread, ` +
        `${(all / surfaces).toFixed(1)} ms each (error ${median(noise).toFixed(1)}, ground ${median(grounds).toFixed(1)}, ` +
        `terrain ${median(terrains).toFixed(1)}); ${prepare.toFixed(0)} ms to prepare`,
    );
  }
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) benchCertainty();
