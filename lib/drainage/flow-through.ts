import { LEAVES, NONE, neighbourOffsets } from './neighbours';
import type { StormOnGround } from './storm-on-ground';

/**
 * All water that passes each cell in a storm, m3: what runs off the ground above it, what low spots spill over it, and what
 * conduits let out above it. What a low spot holds back is in it up to the pit and not beyond.
 *
 * Cost: O(n), and the paths from spill points and outlets down to the next pit.
 */
export function flowThrough({ flow, pools }: Pick<StormOnGround, 'flow' | 'pools'>): Float64Array {
  const { receiver, width, passingM3 } = flow;
  const offsets = neighbourOffsets(width);
  const through = passingM3.slice();
  const carry = (start: number, volumeM3: number): void => {
    for (let cell = start; ; cell += offsets[receiver[cell]]) {
      through[cell] += volumeM3;
      if (receiver[cell] === NONE || receiver[cell] === LEAVES) return;
    }
  };
  for (let pool = 0; pool < pools.count; pool++) {
    const to = pools.spillTo[pool];
    if (pools.spilledM3[pool] > 0 && to !== -1) carry(to, pools.spilledM3[pool]);
  }
  for (const { outlet, volumeM3 } of pools.drains) {
    if (typeof outlet === 'number') carry(outlet, volumeM3);
  }
  return through;
}
