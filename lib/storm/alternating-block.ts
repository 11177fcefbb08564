/**
 * Depths of a storm in which every duration brings its own depth: the blocks by which the depth grows from one duration
 * to the next, the largest in the middle, the others in falling order to its right and left by turns.
 *
 * @param grownMm - depth for one block's duration, two blocks' and so on; rising.
 * @returns as many blocks, in their order in time.
 * Source: the alternating block method, Chow, Maidment and Mays, Applied Hydrology, 1988, example 14.4.1 (from memory).
 */
export function alternatingBlocks(grownMm: readonly number[]): number[] {
  // A table rounded to three figures may grow by a little more later on: the order is by size, not by duration.
  const falling = grownMm
    .map((depth, i) => (i === 0 ? depth : depth - grownMm[i - 1]))
    .sort((a, b) => b - a);
  const blocks = new Array<number>(falling.length).fill(0);
  const middle = Math.floor((falling.length - 1) / 2);
  falling.forEach((block, rank) => {
    const away = Math.ceil(rank / 2);
    blocks[rank % 2 === 1 ? middle + away : middle - away] = block;
  });
  return blocks;
}
