import { cellCentre } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { cellAt } from '../../elevation/grid';
import { lengthM } from '../../frame/shapes';
import { upperWater } from '../figures';
import { newId, type Part } from '../part';
import type { RemedySite } from '../site';
import { dugRules } from './lead-off';

/** A berm on a lot is low and mown. Sides no steeper than 4:1 (Pennsylvania handbook of practices, 6.4.10, seen); height our choice, no source. */
const heightM = 0.3;
const sideSlope = 4;
/** How far above a water it lies, and how far it reaches to either side of the middle of the inflow, metres. Our choices, no source. */
const aboveM: readonly number[] = [4, 7];
const halfM = 9;
/** It runs aslant of the contour by this, so that what it turns runs along it, radians: 6 and 12 degrees. Our choice, no source. */
const slants: readonly number[] = [-0.2, -0.1, 0.1, 0.2];

/** A berm on the uphill side of a water, aslant so that what it turns runs along it and round its lower end. */
export function bermsAbove(site: RemedySite, hollow: number): Part[] {
  return barriersAbove(site, hollow, 'berm');
}

/** The same as a low wall, where there is no room for the foot of a berm. */
export function wallsAbove(site: RemedySite, hollow: number): Part[] {
  return barriersAbove(site, hollow, 'wall');
}

function barriersAbove(site: RemedySite, hollow: number, kind: 'berm' | 'wall'): Part[] {
  const { key, pit } = site.hollows[hollow];
  const { grid } = site.ditch;
  const from = cellCentre(grid, pit);
  const uphill = uphillFrom(site, hollow);
  if (uphill === null) return [];
  return aboveM.flatMap((awayM) =>
    slants.flatMap((slant): Part[] => {
      const middle: XY = [from[0] + uphill[0] * awayM, from[1] + uphill[1] * awayM];
      const along = turned(uphill, Math.PI / 2 + slant);
      const points: XY[] = [-halfM, 0, halfM].map((s) => [
        middle[0] + along[0] * s,
        middle[1] + along[1] * s,
      ]);
      if (!isOpen(site, points)) return [];
      const dug = dugRules(site, points);
      if (dug === null) return [];
      return [
        {
          key: `${kind}-${awayM}m-${Math.round((slant * 180) / Math.PI)}`,
          verb: 'turn-aside',
          hollow: key,
          endsIn: null,
          puts: [
            site.line(newId(site.plan.byId, `remedy-${kind}`), points, {
              kind,
              ...(kind === 'berm'
                ? {
                    name: 'Berm that turns water aside',
                    height_m: heightM,
                    side_slope: sideSlope,
                  }
                : { name: 'Low wall that turns water aside' }),
            }),
          ],
          deletes: [],
          route: points,
          lengthM: lengthM(points),
          deepestM: 0,
          trenchM3: 0,
          rules: [
            {
              rule: 'upper-water',
              result: 'pass',
              why: 'What comes from uphill is turned aside on the own lot, not sent back.',
              source: upperWater.source,
            },
            ...dug,
            ...(kind === 'wall' ? [wallHeight] : []),
          ],
          figures: { height_m: heightM, as: kind },
          about: null,
        },
      ];
    }),
  );
}

/** A wall counts as one that no water tops, whatever its height. */
const wallHeight: Part['rules'][number] = {
  rule: 'wall-height',
  result: 'check',
  why: 'It is taken to be as high as no water tops it: see that its crown stands over the water that it turns, and what it stands on.',
  source: null,
};

/** Unit vector up the slope of the ground around a water; `null` on level ground. */
function uphillFrom(site: RemedySite, hollow: number): XY | null {
  const { grid } = site.ditch;
  const [x, y] = cellCentre(grid, site.hollows[hollow].pit);
  let east = 0;
  let north = 0;
  for (let k = 0; k < 16; k++) {
    const angle = (k * Math.PI) / 8;
    const cell = cellAt(grid, x + 8 * Math.cos(angle), y + 8 * Math.sin(angle));
    if (cell === -1 || Number.isNaN(grid.z[cell])) continue;
    east += grid.z[cell] * Math.cos(angle);
    north += grid.z[cell] * Math.sin(angle);
  }
  const steep = Math.hypot(east, north);
  return steep < 1e-3 ? null : [east / steep, north / steep];
}

function isOpen({ ditch }: RemedySite, points: readonly XY[]): boolean {
  for (let i = 1; i < points.length; i++) {
    for (let t = 0; t <= 1; t += 0.05) {
      const cell = cellAt(
        ditch.grid,
        points[i - 1][0] + t * (points[i][0] - points[i - 1][0]),
        points[i - 1][1] + t * (points[i][1] - points[i - 1][1]),
      );
      if (cell === -1 || ditch.effort[cell] === 0 || ditch.own[cell] === 0) return false;
    }
  }
  return true;
}

function turned([x, y]: XY, angle: number): XY {
  return [x * Math.cos(angle) - y * Math.sin(angle), x * Math.sin(angle) + y * Math.cos(angle)];
}
