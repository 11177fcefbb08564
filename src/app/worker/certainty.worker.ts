import { expose, transfer } from 'comlink';
import {
  certainty,
  prepareCertainty,
  type CertaintyStudy,
} from '../../../lib/drainage/certainty/certainty';
import { summarise } from '../../../lib/drainage/certainty/certainty-result';
import { mergeTallies, type Tallies } from '../../../lib/drainage/certainty/certainty-tallies';
import { assert } from '../../../lib/errors';
import { makeFrame } from '../../../lib/frame/frame';
import { toLocal } from '../../../lib/plan/local-plan';
import type { CertaintyApi } from './certainty-api';

/** Surfaces between two looks at what has come in: a call to stop waits for no more than these. */
const atATime = 4;

let study: CertaintyStudy | null = null;
/** Counts calls to stop, so that each run knows whether one came after it began. */
let stops = 0;

function prepared(): CertaintyStudy {
  assert(study !== null, 'a question must be prepared before surfaces are run');
  return study;
}

/** Lets messages in. */
function pause(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 0));
}

const api: CertaintyApi = {
  prepare: ({ grid, plan, rainMm, errors, seed }) => {
    const local = toLocal(plan, makeFrame(grid.frame));
    study = prepareCertainty({ elevation: grid, plan: local, rainMm, errors, seed });
    return Promise.resolve();
  },
  run: async (from, to) => {
    const before = stops;
    const parts: Tallies[] = [];
    for (let at = from; at < to; at += atATime) {
      await pause();
      if (stops !== before) return null;
      parts.push(certainty(prepared(), { from: at, to: Math.min(to, at + atATime) }));
    }
    const tallies = mergeTallies(parts);
    return transfer(tallies, [tallies.wet.buffer, tallies.toBasin.buffer]);
  },
  summarise: (tallies) => Promise.resolve(summarise(prepared(), tallies)),
  stop: () => {
    stops++;
  },
};

expose(api);
