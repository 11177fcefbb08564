import { distanceM, type Ring } from './shapes';

/** The greatest distance between two corners of an outline, metres. Cost: its corners squared. */
export function longestAcross(ring: Ring): number {
  let longest = 0;
  ring.forEach((a, i) => {
    for (const b of ring.slice(i + 1)) longest = Math.max(longest, distanceM(a, b));
  });
  return longest;
}
