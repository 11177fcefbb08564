import type { AskedGround } from './grounds';
import { routeBy, type Method } from './methods';
import type { Move } from './receiver-rules';
import type { FlowRun } from './shallow-flow';

/** Net volume from region to region, m3: element `from * regions + to`, with the opposite sign the other way. */
export type Between = Float64Array;

/** Sums moves between cells of different regions. */
export function between(
  regions: number,
  region: Uint8Array,
  eachMove: (move: Move) => void,
): Between {
  const net = new Float64Array(regions ** 2);
  eachMove((from, to, volume) => {
    const [a, b] = [region[from], region[to]];
    if (a === b) return;
    net[a * regions + b] += volume;
    net[b * regions + a] -= volume;
  });
  return net;
}

/** As a method of routing has it. */
export function betweenByMethod(ground: AskedGround, method: Method): Between {
  const { z, width, height, cellM, region, names, runOffM } = ground;
  const { eachMove } = routeBy(method, z, width, height, cellM);
  return between(names.length, region, (move) => {
    eachMove(runOffM, (from, to, volume) => {
      move(from, to, volume * cellM * cellM);
    });
  });
}

/** As the solver has it. */
export function betweenByFlow(
  { region, names, width }: AskedGround,
  { eastM3, southM3 }: FlowRun,
): Between {
  return between(names.length, region, (move) => {
    for (let i = 0; i < region.length; i++) {
      if (eastM3[i] !== 0) move(i, i + 1, eastM3[i]);
      if (southM3[i] !== 0) move(i, i + width, southM3[i]);
    }
  });
}

/** How far volumes between regions are off, as parts: over lot lines, and into basins and hollows. */
export interface Errors {
  readonly overLines: number[];
  readonly intoBasins: number[];
}

/** Volumes below this part of the run-off are not judged; errors are parts of the volume, or of three times this when it is less. */
const leastPart = 0.01;

export function errorsOf(
  { names, places, runOffM, cellM }: AskedGround,
  answer: Between,
  right: Between,
): Errors {
  const least = leastPart * cellM * cellM * runOffM.reduce((sum, depth) => sum + depth);
  const errors: Errors = { overLines: [], intoBasins: [] };
  for (let a = 0; a < names.length; a++) {
    for (let b = a + 1; b < names.length; b++) {
      const at = a * names.length + b;
      if (Math.abs(right[at]) < least) continue;
      const error = (answer[at] - right[at]) / Math.max(Math.abs(right[at]), 3 * least);
      errors[b >= names.length - places ? 'intoBasins' : 'overLines'].push(error);
    }
  }
  return errors;
}
