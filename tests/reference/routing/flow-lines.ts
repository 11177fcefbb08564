import { between, type Between } from './between-regions';
import type { AskedGround, MadeGround } from './grounds';
import { swallowing } from './shallow-flow';

const stepM = 0.1;
const mostSteps = 4000;

/**
 * Where water goes that keeps to the steepest way down a smooth surface, from `3 x 3` points of each cell: the answer
 * for a thin film, with no spreading sideways at all.
 *
 * @param ground - `made` cut into cells; without hollows, in which flow lines end.
 */
export function betweenByFlowLines(made: MadeGround, ground: AskedGround): Between {
  const { width, cellM, region, names, runOffM } = ground;
  const swallows = swallowing(ground);
  const points = 3;
  return between(names.length, region, (move) => {
    for (let start = 0; start < region.length; start++) {
      if (runOffM[start] === 0) continue;
      const volume = (runOffM[start] * cellM * cellM) / (points * points);
      for (let point = 0; point < points * points; point++) {
        let x = ((start % width) + ((point % points) + 0.5) / points) * cellM;
        let y = (Math.floor(start / width) + (Math.floor(point / points) + 0.5) / points) * cellM;
        let at = start;
        for (let step = 0; step < mostSteps && swallows[at] === 0; step++) {
          const [right, down] = fall(made, x, y);
          x += stepM * right;
          y += stepM * down;
          const next = Math.floor(y / cellM) * width + Math.floor(x / cellM);
          move(at, next, volume);
          at = next;
        }
      }
    }
  });
}

/** The steepest way down, of length 1. */
function fall({ heightAt }: MadeGround, x: number, y: number): [number, number] {
  const by = 1e-3;
  const right = heightAt(x - by, y) - heightAt(x + by, y);
  const down = heightAt(x, y - by) - heightAt(x, y + by);
  const slope = Math.hypot(right, down) || 1;
  return [right / slope, down / slope];
}
