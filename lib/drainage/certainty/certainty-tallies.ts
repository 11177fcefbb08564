import { expectOf } from '../../errors';

/** What is asked of every surface, by the baseline's low spots, basins and buildings in its order. */
export interface Tallied {
  readonly cells: number;
  readonly cellM2: number;
  readonly spots: number;
  readonly basins: number;
  readonly buildings: number;
}

/**
 * Counts over equally likely surfaces. Lists hold a row for each surface, rows in the order of `indices`. All counts are whole
 * numbers and all rows those of one surface, so tallies of parts put together are the tally of the whole, to the bit.
 */
export interface Tallies {
  readonly of: Tallied;
  /** Indices of the surfaces counted, ascending. */
  readonly indices: Int32Array<ArrayBuffer>;
  /** For each cell in how many surfaces water stands on it. */
  readonly wet: Uint16Array<ArrayBuffer>;
  /** For each cell in how many surfaces most of its water reaches a basin. */
  readonly toBasin: Uint16Array<ArrayBuffer>;
  /** 1 where the low spot is there, row by row. */
  readonly spotIsThere: Uint8Array<ArrayBuffer>;
  readonly spotAreaM2: Float32Array<ArrayBuffer>;
  readonly spotVolumeM3: Float32Array<ArrayBuffer>;
  /** What drains to each basin. */
  readonly basinAreaM2: Float32Array<ArrayBuffer>;
  /** 1 where the basin fills up to its overflow. */
  readonly basinIsFull: Uint8Array<ArrayBuffer>;
  /** Length of each building's wall with standing water of a low spot worth listing at it. */
  readonly wetWallM: Float32Array<ArrayBuffer>;
}

/** Tallies with room for some surfaces, all zero. */
export function emptyTallies(of: Tallied, indices: Int32Array<ArrayBuffer>): Tallies {
  const rows = indices.length;
  return {
    of,
    indices,
    wet: new Uint16Array(of.cells),
    toBasin: new Uint16Array(of.cells),
    spotIsThere: new Uint8Array(rows * of.spots),
    spotAreaM2: new Float32Array(rows * of.spots),
    spotVolumeM3: new Float32Array(rows * of.spots),
    basinAreaM2: new Float32Array(rows * of.basins),
    basinIsFull: new Uint8Array(rows * of.basins),
    wetWallM: new Float32Array(rows * of.buildings),
  };
}

/**
 * Puts together tallies of disjoint ranges of surfaces of one study, given in any order. Cost: linear in what they hold.
 *
 * @throws {InputError} `tallies` when there are none, or two hold the same surface.
 */
export function mergeTallies(parts: readonly Tallies[]): Tallies {
  const expectParts = (condition: boolean, problem: string): void => {
    expectOf(condition, {
      code: 'tallies',
      where: 'certainty',
      problem,
      remedy: 'merge one tally or more, of ranges of surfaces that do not overlap',
    });
  };
  expectParts(parts.length > 0, 'there is no tally to merge');
  const sorted = parts.toSorted((a, b) => (a.indices[0] ?? 0) - (b.indices[0] ?? 0));
  const indices = new Int32Array(sorted.reduce((sum, part) => sum + part.indices.length, 0));
  const merged = emptyTallies(sorted[0].of, indices);
  let row = 0;
  for (const part of sorted) {
    const { spots, basins, buildings } = part.of;
    expectParts(
      row === 0 || part.indices.length === 0 || part.indices[0] > indices[row - 1],
      `surface ${part.indices[0]} is counted twice`,
    );
    indices.set(part.indices, row);
    for (let cell = 0; cell < part.wet.length; cell++) {
      merged.wet[cell] += part.wet[cell];
      merged.toBasin[cell] += part.toBasin[cell];
    }
    merged.spotIsThere.set(part.spotIsThere, row * spots);
    merged.spotAreaM2.set(part.spotAreaM2, row * spots);
    merged.spotVolumeM3.set(part.spotVolumeM3, row * spots);
    merged.basinAreaM2.set(part.basinAreaM2, row * basins);
    merged.basinIsFull.set(part.basinIsFull, row * basins);
    merged.wetWallM.set(part.wetWallM, row * buildings);
    row += part.indices.length;
  }
  return merged;
}
