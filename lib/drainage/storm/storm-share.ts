import { keptOn, type StormFlow } from './kept-water';
import { shareSweep } from '../terrain/share-sweep';

export interface StormShareOptions {
  /** 1 for cells where water ends otherwise. */
  readonly isEnd?: Uint8Array;
  /** Whether what conduits lead elsewhere counts where it comes to; else it counts nowhere. */
  readonly ledOn?: boolean;
}

/**
 * Share of each cell's run-off that reaches a target in one storm: what low spots on the way hold back does not arrive,
 * unless it comes to stand on the target; what conduits carry arrives where they lead.
 *
 * @param isTarget - 1 for the target's cells.
 * @param depthM - standing water by cell.
 * @returns 0 to 1 for each cell, 1 in the target.
 * Cost: O(n), and as often again as water that is led on comes to be led on again.
 */
export function stormShare(
  flow: StormFlow,
  depthM: Float32Array,
  isTarget: Uint8Array,
  { isEnd, ledOn = true }: StormShareOptions = {},
): Float64Array<ArrayBuffer> {
  const { routing, pondWaterM3, keeperOfPond, keepers, keptM3, leaving } = flow;
  const { arrived, passed } = pondWaterM3;
  const share = new Float64Array(routing.surface.length);
  const held = keptOn(flow, depthM, (cell) => (isTarget[cell] === 1 ? 1 : 0), 2);
  const passes = arrived.map((volume, pond) => (volume > 0 ? passed[pond] / volume : 0));
  const otherwise = new Float64Array(arrived.length);
  for (let before: Float64Array | null = null; ;) {
    const reaches = new Float64Array(keepers);
    for (let keeper = 0; keeper < keepers; keeper++) reaches[keeper] = held[2 * keeper + 1];
    if (ledOn) {
      for (const { keeper, from, to, volumeM3 } of leaving) {
        const part = isTarget[from] === 1 ? 1 : typeof to === 'number' ? share[to] : 0;
        reaches[keeper] += part * volumeM3;
      }
    }
    let change = before === null ? 1 : 0;
    for (let pond = 1; pond < otherwise.length; pond++) {
      const keeper = keeperOfPond[pond];
      const part = keeper !== -1 && keptM3[keeper] > 0 ? reaches[keeper] / keptM3[keeper] : 0;
      const value = (1 - passes[pond]) * Math.min(1, part);
      change = Math.max(change, Math.abs(value - otherwise[pond]));
      otherwise[pond] = value;
    }
    if (change <= 1e-13) return share;
    shareSweep(routing, isTarget, { passes, otherwise }, share, isEnd ?? null);
    if (!ledOn || leaving.every(({ to }) => typeof to !== 'number')) return share;
    before = otherwise;
  }
}
