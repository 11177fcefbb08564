import type { Grid } from '../../../lib/elevation/grid';
import type { XY } from '../../../lib/frame/frame';
import type { LocalPlan } from '../../../lib/plan/local-plan';
import { ruleSetById } from '../../../lib/setback/sets/rule-sets';
import type { SitingInput } from '../../../lib/siting/sizing/siting-input';
import type { Catchments, RoofPart } from '../../../lib/siting/water/catchments';
import { box, frame, planOf, type Drawn } from '../setback/plan-of';

const inchM = 0.0254;

/** A plane that falls to the south, with its north-west corner given, heights about 10 m. */
export function fallingSouth(
  west: number,
  north: number,
  widthM: number,
  heightM: number,
  cellM: number,
  slope: number,
): Grid {
  const width = Math.round(widthM / cellM);
  const height = Math.round(heightM / cellM);
  const z = Float32Array.from(
    { length: width * height },
    (_, i) => 20 - slope * (Math.floor(i / width) + 0.5) * cellM,
  );
  return { width, height, cellM, westM: west, northM: north, z, datumM: 100, frame: frame.spec };
}

/**
 * Where water goes on a plane that falls to the south: straight down its column. A roof's water runs down the column
 * of its outlet.
 */
function straightSouth(grid: Grid, roofs: readonly RoofPart[]): Catchments {
  const { width, height, cellM } = grid;
  const cellM2 = cellM * cellM;
  const accumulationM2 = new Float32Array(width * height);
  const cellOf = ([x, y]: XY): number =>
    Math.floor((grid.northM - y) / cellM) * width + Math.floor((x - grid.westM) / cellM);
  for (let column = 0; column < width; column++) {
    let sum = 0;
    for (let row = 0; row < height; row++) {
      const cell = row * width + column;
      sum += cellM2;
      for (const roof of roofs) if (cellOf(roof.at) === cell) sum += roof.areaM2;
      accumulationM2[cell] = sum;
    }
  }
  return {
    accumulationM2,
    roofs,
    catchAt: (cells) => catchOf(cells, []),
    catchApart: (groups) => ({
      catches: groups.map((cells, i) =>
        catchOf(
          cells,
          groups.filter((_, j) => j !== i),
        ),
      ),
      // From the lowest row of a group straight down its column.
      onward: groups.map((cells, i) =>
        groups.map((others, j) => {
          if (i === j) return 0;
          const lowest = Math.max(...cells);
          const below = groups
            .flatMap((group, k) => [...group].map((cell) => ({ cell, k })))
            .filter(({ cell, k }) => k !== i && cell > lowest && cell % width === lowest % width)
            .sort((a, b) => a.cell - b.cell);
          return others.length > 0 && below.at(0)?.k === j ? 1 : 0;
        }),
      ),
    }),
  };

  /** What comes to some cells down their columns, less what other cells above them keep. */
  function catchOf(cells: Int32Array, others: readonly Int32Array[]) {
    const lowest = new Map<number, number>();
    for (const cell of cells) {
      const column = cell % width;
      lowest.set(column, Math.max(lowest.get(column) ?? -1, cell));
    }
    const stops = new Map<number, number>();
    for (const cell of others.flatMap((group) => [...group])) {
      const column = cell % width;
      const own = lowest.get(column);
      if (own !== undefined && cell < own) {
        stops.set(column, Math.max(stops.get(column) ?? -1, cell));
      }
    }
    const roofShares = roofs.map((roof) => {
      const at = cellOf(roof.at);
      const column = at % width;
      return (lowest.get(column) ?? -1) >= at && (stops.get(column) ?? -1) < at ? 1 : 0;
    });
    let areaM2 = 0;
    for (const [column, cell] of lowest) {
      const stop = stops.get(column);
      areaM2 += accumulationM2[cell] - (stop === undefined ? 0 : accumulationM2[stop]);
    }
    const roofM2 = roofs.reduce((sum, roof, i) => sum + roof.areaM2 * roofShares[i], 0);
    return { areaM2, roofShares, runOffM3: inchM * (areaM2 - roofM2) };
  }
}

export const today = '2026-05-10';

/** An input for a plan on a plane that falls to the south by 3 %, silty soil, an inch of run-off. */
export function inputOf(
  plan: LocalPlan,
  grid: Grid,
  roofs: readonly RoofPart[],
  more: Partial<SitingInput> = {},
): SitingInput {
  return {
    plan,
    elevation: grid,
    ruleSet: ruleSetById('default'),
    today,
    catchments: straightSouth(grid, roofs),
    soil: 'silty',
    runOffDepthM: inchM,
    roofRunOffM: inchM,
    ...more,
  };
}

/** A lot with its house at the north end. */
export function lotWithHouse(
  lot: readonly XY[],
  house: readonly XY[],
  ...more: Drawn[]
): LocalPlan {
  return planOf(
    { id: 'lot', properties: { kind: 'lot', own: true }, rings: [lot] },
    { id: 'house', properties: { kind: 'building', foundation: 'basement' }, rings: [house] },
    ...more,
  );
}

export { box };
