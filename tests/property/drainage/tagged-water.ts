import { filledByRelaxation, leavesAt, neighboursOf, type SmallGround } from './grounds';

/** Water with where it was put down: volume by origin. */
type Tagged = Float64Array;

/** What one storm on a small ground came to, told by tags that the water carries. */
export interface TaggedStorm {
  /** By cell, by origin: what stood there at the end. Only the cell's pond counts: it is `pondOf` that names it. */
  readonly keptByPond: readonly Tagged[];
  readonly pondOf: Int32Array;
  readonly capacity: Float64Array;
  /** Water that arrived in each cell, by origin. */
  readonly arrived: readonly Tagged[];
  readonly left: Tagged;
  /** Every move between two cells in turn, by origin; `pond` where the mixture of one leaves it. */
  readonly moves: readonly { readonly from: number; readonly to: number; readonly water: Tagged }[];
}

/**
 * The same storm by other means: no terrain, no tree, no order of cells but their heights. The filled surface by relaxation, ponds by
 * flooding, cells one after the other from the highest down, every drop with the cell that it fell on as its tag. Needs heights that are all
 * different.
 */
export function tagWater(ground: SmallGround, putDown: Float64Array): TaggedStorm {
  const { z } = ground;
  const size = z.length;
  const filled = filledByRelaxation(ground);
  const pondOf = new Int32Array(size).fill(-1);
  const ponds: number[][] = [];
  for (let start = 0; start < size; start++) {
    if (!(filled[start] > z[start]) || pondOf[start] !== -1) continue;
    const cells = [start];
    pondOf[start] = ponds.length;
    for (const cell of cells) {
      for (const next of neighboursOf(ground, cell)) {
        if (pondOf[next] !== -1 || filled[next] !== filled[cell] || !(filled[next] > z[next]))
          continue;
        pondOf[next] = ponds.length;
        cells.push(next);
      }
    }
    ponds.push(cells);
  }
  const capacity = Float64Array.from(ponds, (cells) =>
    cells.reduce((sum, cell) => sum + (filled[cell] - z[cell]), 0),
  );
  const arrived = Array.from({ length: size }, (_, cell) => {
    const water = new Float64Array(size);
    if (!Number.isNaN(z[cell])) water[cell] = putDown[cell];
    return water;
  });
  const keptByPond: Tagged[] = ponds.map(() => new Float64Array(size));
  const left = new Float64Array(size);
  const moves: { from: number; to: number; water: Tagged }[] = [];
  const give = (from: number, to: number, water: Tagged, part: number): void => {
    const moved = water.map((volume) => volume * part);
    moves.push({ from, to, water: moved });
    moved.forEach((volume, tag) => (arrived[to][tag] += volume));
  };
  /** A cell's water to its lower neighbours on the filled surface, by slope. */
  const spread = (cell: number, water: Tagged): void => {
    const row = Math.floor(cell / ground.width);
    const slopes = neighboursOf(ground, cell)
      .map((next) => {
        const isStraight =
          Math.floor(next / ground.width) === row || next % ground.width === cell % ground.width;
        return { next, slope: (filled[cell] - filled[next]) / (isStraight ? 1 : Math.SQRT2) };
      })
      .filter(({ slope }) => slope > 0);
    const whole = slopes.reduce((sum, { slope }) => sum + slope, 0);
    for (const { next, slope } of slopes) give(cell, next, water, slope / whole);
  };
  const overflow = (pond: number): void => {
    const cells = ponds[pond];
    const whole = new Float64Array(size);
    for (const cell of cells) arrived[cell].forEach((volume, tag) => (whole[tag] += volume));
    const total = whole.reduce((sum, volume) => sum + volume, 0);
    const over = Math.max(0, total - capacity[pond]);
    whole.forEach((volume, tag) => {
      keptByPond[pond][tag] = total > 0 ? volume * (1 - over / total) : 0;
    });
    if (over === 0) return;
    // over the cell of its rim that stands at the brim and falls away beyond
    const level = filled[cells[0]];
    for (const cell of cells) {
      for (const rim of neighboursOf(ground, cell)) {
        if (pondOf[rim] === pond || filled[rim] !== level) continue;
        give(cell, rim, whole, over / total);
        return;
      }
    }
  };
  const last = new Map(ponds.map((cells, pond) => [pond, filled[cells[0]]]));
  const steps = [
    ...Array.from(z.keys())
      .filter((cell) => pondOf[cell] === -1 && !Number.isNaN(z[cell]))
      .map((cell) => ({ height: filled[cell], isPond: 0, at: cell })),
    ...[...last].map(([pond, height]) => ({ height, isPond: 1, at: pond })),
  ].sort((a, b) => b.height - a.height || b.isPond - a.isPond);
  for (const { isPond, at } of steps) {
    if (isPond === 1) overflow(at);
    else if (leavesAt(ground, at)) arrived[at].forEach((volume, tag) => (left[tag] += volume));
    else spread(at, arrived[at]);
  }
  return { keptByPond, pondOf, capacity, arrived, left, moves };
}
