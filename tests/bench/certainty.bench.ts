import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import { certainty, prepareCertainty } from '../../lib/drainage/certainty/certainty';
import { addError } from '../../lib/drainage/height-error/error-field';
import { buildTerrain } from '../../lib/drainage/terrain/terrain';
import { Workspace } from '../../lib/drainage/terrain/workspace';
import { ground } from '../../lib/ground/ground';
import { benchedLot } from './benched-lot';

const surfaces = 100;

function timed(run: () => unknown): number {
  const start = performance.now();
  run();
  return performance.now() - start;
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];
}

/** Seconds that two threads take for a question: with their code fresh, and once it has been asked before. */
async function onTwoThreads(side: number): Promise<string> {
  const url = new URL('./certainty-thread.ts', import.meta.url).href;
  // A thread has no loader for TypeScript of its own accord.
  const code = `import('tsx/esm/api').then(({ register }) => {
    register();
    return import(${JSON.stringify(url)});
  });`;
  const threads = [0, 1].map(() => new Worker(code, { eval: true }));
  const ask = (): Promise<unknown> =>
    Promise.all(
      threads.map(
        (thread, i) =>
          new Promise((resolve) => {
            thread.once('message', resolve);
            thread.postMessage({
              side,
              from: (i * surfaces) / 2,
              to: ((i + 1) * surfaces) / 2,
            });
          }),
      ),
    );
  const taken: string[] = [];
  for (let time = 0; time < 4; time++) {
    const start = performance.now();
    await ask();
    taken.push(((performance.now() - start) / 1000).toFixed(2));
  }
  await Promise.all(threads.map((thread) => thread.terminate()));
  return taken.join(', ');
}

/** Prints what a hundred equally likely surfaces take, by part and in all, at 250, 500 and 1000 cells a side. Judges nothing. */
export async function benchCertainty(sides: readonly number[] = [250, 500, 1000]): Promise<void> {
  for (const side of sides) {
    const input = benchedLot(side);
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
        `terrain ${median(terrains).toFixed(1)}); ${prepare.toFixed(0)} ms to prepare; on two threads, asked again and again, ` +
        `${await onTwoThreads(side)} s with preparing (the first with the start of the threads)`,
    );
  }
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) await benchCertainty();
