import { parentPort } from 'node:worker_threads';
import {
  certainty,
  prepareCertainty,
  type CertaintyInput,
} from '../../lib/drainage/certainty/certainty';
import { benchedLot } from './benched-lot';

const lots = new Map<number, CertaintyInput>();

/** Runs surfaces of the lot that is measured, beside another thread that runs the others: prepares anew for each question, as the page does. */
parentPort?.on('message', ({ side, from, to }: { side: number; from: number; to: number }) => {
  const lot = lots.get(side) ?? benchedLot(side);
  lots.set(side, lot);
  const tallies = certainty(prepareCertainty(lot), { from, to });
  parentPort?.postMessage(tallies, [tallies.wet.buffer, tallies.toBasin.buffer]);
});
