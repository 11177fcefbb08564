import fc from 'fast-check';

/** A small random ground for comparing fast kernels with plain ones. */
export interface SmallGround {
  readonly width: number;
  readonly height: number;
  readonly z: Float32Array;
}

/** Continuous heights, whole numbers from 1 to 4 (plateaus), or eighths. */
type Kind = 'continuous' | 'plateaus' | 'eighths';

function heightOf(kind: Kind): fc.Arbitrary<number> {
  if (kind === 'plateaus') return fc.integer({ min: 1, max: 4 });
  if (kind === 'eighths') return fc.integer({ min: 8, max: 48 }).map((eighth) => eighth / 8);
  return fc.integer({ min: 0, max: 2 ** 22 }).map((step) => Math.fround(1 + step / 2 ** 18));
}

/** Random grounds of all three kinds, from one cell up; some have cells without data when asked for. */
export function smallGround(options: {
  readonly kinds?: readonly Kind[];
  readonly least?: number;
  readonly most?: number;
  readonly holes?: boolean;
}): fc.Arbitrary<SmallGround> {
  const {
    kinds = ['continuous', 'plateaus', 'eighths'],
    least = 1,
    most = 12,
    holes = false,
  } = options;
  const side = fc.integer({ min: least, max: most });
  return fc
    .tuple(side, side, fc.constantFrom(...kinds), fc.boolean())
    .chain(([width, height, kind, bare]) => {
      const cell =
        holes && bare
          ? fc.oneof(
              { weight: 9, arbitrary: heightOf(kind) },
              { weight: 1, arbitrary: fc.constant(Number.NaN) },
            )
          : heightOf(kind);
      return fc
        .array(cell, { minLength: width * height, maxLength: width * height })
        .map((values) => ({ width, height, z: Float32Array.from(values) }));
    });
}

/** Indices of the up to eight neighbours inside the grid. */
export function neighboursOf({ width, height }: SmallGround, cell: number): number[] {
  const row = Math.floor(cell / width);
  const column = cell % width;
  const found: number[] = [];
  for (let r = row - 1; r <= row + 1; r++) {
    for (let c = column - 1; c <= column + 1; c++) {
      if (r < 0 || c < 0 || r >= height || c >= width || (r === row && c === column)) continue;
      found.push(r * width + c);
    }
  }
  return found;
}

/** Whether water leaves the map at a data cell: fewer than eight neighbours with data. */
export function leavesAt(ground: SmallGround, cell: number): boolean {
  const around = neighboursOf(ground, cell);
  return around.length < 8 || around.some((next) => Number.isNaN(ground.z[next]));
}

/**
 * The filled surface by relaxation: lower each cell to the higher of itself and its lowest
 * neighbour, until nothing changes.
 */
export function filledByRelaxation(ground: SmallGround): Float32Array {
  const { z } = ground;
  const filled = z.map((height, cell) =>
    Number.isNaN(height) || leavesAt(ground, cell) ? height : Infinity,
  );
  for (let changed = true; changed;) {
    changed = false;
    for (let cell = 0; cell < z.length; cell++) {
      for (const next of neighboursOf(ground, cell)) {
        const through = Math.max(z[cell], filled[next]);
        if (through < filled[cell]) {
          filled[cell] = through;
          changed = true;
        }
      }
    }
  }
  return filled;
}

export function sum(values: Iterable<number>): number {
  let total = 0;
  for (const value of values) if (!Number.isNaN(value)) total += value;
  return total;
}

/** A seeded generator of numbers from 0 to 1 (32-bit xorshift). */
export function randomFrom(seed: number): () => number {
  let state = (seed | 0) ^ 0x9e3779b9 || 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
}

/** White noise: heights from 1 to 9 that are all different but for rare chance. */
export function noiseGround(least: number, most: number): fc.Arbitrary<SmallGround> {
  const side = fc.integer({ min: least, max: most });
  return fc.tuple(side, side, fc.integer()).map(([width, height, seed]) => {
    const random = randomFrom(seed);
    return {
      width,
      height,
      z: Float32Array.from({ length: width * height }, () => 1 + 8 * random()),
    };
  });
}

/** Whether water could leave a cell by three ways or more: which one takes it first is then a matter of convention. */
export function hasThreeWayPass(ground: SmallGround): boolean {
  return ground.z.some((height, cell) => {
    if (leavesAt(ground, cell)) return false;
    const lower = new Set(neighboursOf(ground, cell).filter((next) => ground.z[next] < height));
    let groups = 0;
    for (const first of lower) {
      groups++;
      const group = new Set([first]);
      for (const member of group) {
        lower.delete(member);
        for (const next of neighboursOf(ground, member)) if (lower.has(next)) group.add(next);
      }
    }
    return groups >= 3;
  });
}
