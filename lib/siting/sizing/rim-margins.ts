import type { XY } from '../../frame/frame';
import { marginCapM, type ForbiddenGround } from '../refused/forbidden-ground';
import type { BasinOutline } from './basin-outline';

/** Corners looked at first: every so many. */
const everyCorner = 11;

/** How far rims of outlines keep from ground that rules close to them. */
export class RimMargins {
  readonly #forbidden: ForbiddenGround;

  constructor(forbidden: ForbiddenGround) {
    this.#forbidden = forbidden;
  }

  /** Least margin at a point, read between the centres of cells; negative off the map. */
  at(x: number, y: number): number {
    const { mesh, marginM } = this.#forbidden;
    const { columns, rows } = mesh;
    const column = (x - mesh.westM) / mesh.cellM - 0.5;
    const row = (mesh.northM - y) / mesh.cellM - 0.5;
    if (column < -0.5 || row < -0.5 || column > columns - 0.5 || row > rows - 0.5)
      return -marginCapM;
    const c = Math.min(columns - 2, Math.max(0, Math.floor(column)));
    const r = Math.min(rows - 2, Math.max(0, Math.floor(row)));
    if (columns < 2 || rows < 2) return marginM[Math.round(row) * columns + Math.round(column)];
    const i = r * columns + c;
    const east = column - c;
    const south = row - r;
    const north = marginM[i] * (1 - east) + marginM[i + 1] * east;
    const below = marginM[i + columns] * (1 - east) + marginM[i + columns + 1] * east;
    return north * (1 - south) + below * south;
  }

  /** The least margin along an outline that keeps every distance at a place, metres; `null` where it does not. */
  fitting(outline: BasinOutline, centre: XY, areaM2: number): number | null {
    const scale = Math.sqrt(areaM2);
    const { unit } = outline;
    let least = Infinity;
    // Most that do not fit show it at one of a few corners spread around.
    for (let i = 0; i < unit.length; i += 2 * everyCorner) {
      if (this.at(centre[0] + scale * unit[i], centre[1] + scale * unit[i + 1]) < 0) return null;
    }
    for (let i = 0; i < unit.length; i += 2) {
      const marginM = this.at(centre[0] + scale * unit[i], centre[1] + scale * unit[i + 1]);
      if (marginM < 0) return null;
      if (marginM < least) least = marginM;
      // Half-way in, for something thin that lies wholly inside the rim.
      if (
        i % 8 === 0 &&
        this.at(centre[0] + 0.5 * scale * unit[i], centre[1] + 0.5 * scale * unit[i + 1]) < 0
      ) {
        return null;
      }
    }
    return least;
  }

  /** The least margin along an outline, negative where it does not fit: by how much. */
  least(outline: BasinOutline, centre: XY, areaM2: number): number {
    const scale = Math.sqrt(areaM2);
    const { unit } = outline;
    let least = Infinity;
    for (let i = 0; i < unit.length; i += 2) {
      const marginM = this.at(centre[0] + scale * unit[i], centre[1] + scale * unit[i + 1]);
      if (marginM < least) least = marginM;
    }
    return least;
  }
}
