import { cellCentre } from '../../elevation/grid';
import { flowPath } from '../../drainage/terrain/flow-path';
import type { XY } from '../../frame/frame';
import { areaM2, centroid, distanceM, type Ring } from '../../frame/shapes';
import { basinDefaults } from '../../ground/ground';
import { featureName } from '../../plan/feature-name';
import { forbiddenGround, type ForbiddenGround } from '../../siting/refused/forbidden-ground';
import { meshCellAt, meshCentre } from '../../siting/refused/mesh';
import { newId, type Part } from '../part';
import { changed, type RemedySite } from '../site';

/** Radii of a new garden that are tried, the largest first, metres: 45, 28 and 12 m2. Our choice, no source. */
const radiiM: readonly number[] = [4, 3.15, 2.05];
const corners = 8;
/** Places are looked for within this of where the water runs, and apart from one another, metres. Our choices, no source. */
const besideM = 6;
const apartM = 8;
/** So many places are tried at most. Our choice, no source. */
const mostPlaces = 2;

/**
 * A rain garden where what a low spot sends on runs by, on ground that no binding rule refuses, and each garden of the
 * plan moved there: hold what remedies at walls send on.
 */
export function gardensOnTheWay(site: RemedySite, hollow: number): Part[] {
  const { plan, elevation, ruleSet } = site;
  const open = forbiddenGround({ plan, elevation, ruleSet });
  const way = wayOf(site, hollow);
  const places = placesBeside(open, way);
  return [
    ...places.flatMap(({ at, radiusM }, i) => newGarden(site, at, radiusM, i)),
    ...movedGardens(site, open, way),
  ];
}

/** Middles of the cells by which what a low spot sends on runs over the own lot. */
function wayOf(site: RemedySite, hollow: number): XY[] {
  const { routing, ground } = site.shape;
  const { cells } = site.hollows[hollow];
  const wet = new Set(cells);
  return [...flowPath(routing, site.hollows[hollow].pit).cells].flatMap((cell): XY[] => {
    const lot = ground.lotOf[cell];
    return lot === -1 || !ground.lots[lot].own || wet.has(cell)
      ? []
      : [cellCentre(ground.grid, cell)];
  });
}

interface Place {
  readonly at: XY;
  readonly radiusM: number;
}

/** The nearest places to the way with room for the largest garden that there is room for. */
function placesBeside(open: ForbiddenGround, way: readonly XY[]): Place[] {
  const near = nearCells(open, way);
  const found: Place[] = [];
  for (const radiusM of radiiM) {
    for (const at of near) {
      if (found.length === mostPlaces) return found;
      if (found.some((place) => distanceM(place.at, at) < apartM)) continue;
      if (isOpen(open, round(at, radiusM))) found.push({ at, radiusM });
    }
  }
  return found;
}

/** Middles of open cells near the way, the nearest first. */
function nearCells(open: ForbiddenGround, way: readonly XY[]): XY[] {
  const { mesh } = open;
  const found: { readonly at: XY; readonly awayM: number }[] = [];
  for (let cell = 0; cell < mesh.columns * mesh.rows; cell++) {
    if (!isOpenCell(open, cell)) continue;
    const at = meshCentre(mesh, cell);
    const awayM = way.reduce((least, place) => Math.min(least, distanceM(at, place)), Infinity);
    if (awayM <= besideM) found.push({ at, awayM });
  }
  return found.sort((a, b) => a.awayM - b.awayM).map(({ at }) => at);
}

function isOpenCell({ inLot, refusedBy, mustBits }: ForbiddenGround, cell: number): boolean {
  return inLot[cell] === 1 && (refusedBy[cell] & mustBits) === 0;
}

/** Whether no corner of a rim, nor the middle between two, lies on refused ground. */
function isOpen(open: ForbiddenGround, rim: Ring): boolean {
  return rim.every((corner, i) => {
    const next = rim[(i + 1) % rim.length];
    const between: XY = [(corner[0] + next[0]) / 2, (corner[1] + next[1]) / 2];
    return [corner, between].every((at) => {
      const cell = meshCellAt(open.mesh, ...at);
      return cell !== -1 && isOpenCell(open, cell);
    });
  });
}

function round([x, y]: XY, radiusM: number): XY[] {
  return Array.from({ length: corners }, (_, k) => {
    const angle = (2 * Math.PI * (k + 0.5)) / corners;
    return [x + radiusM * Math.cos(angle), y + radiusM * Math.sin(angle)];
  });
}

function newGarden(site: RemedySite, at: XY, radiusM: number, i: number): Part[] {
  const rim = round(at, radiusM);
  if (meetsGarden(site, rim, null)) return [];
  const id = newId(site.plan.byId, `remedy-garden-${i + 1}`);
  return [
    {
      ...holding,
      key: `new-garden-${i + 1}`,
      puts: [
        site.polygon(id, rim, {
          kind: 'basin',
          name: 'Rain garden on the way',
          ponding_depth_m: basinDefaults.pondingDepthM,
        }),
      ],
      figures: { new_m2: areaM2([rim]), depth_m: basinDefaults.pondingDepthM },
      about: null,
    },
  ];
}

/** Each garden of the plan with its middle on the nearest place to the way where its own outline has room. */
function movedGardens(site: RemedySite, open: ForbiddenGround, way: readonly XY[]): Part[] {
  const near = nearCells(open, way);
  return site.plan.of.basin.flatMap((basin): Part[] => {
    const ring = basin.shape.rings[0];
    const middle = centroid([ring]);
    const shifted = (at: XY, to: XY): XY => [at[0] + to[0] - middle[0], at[1] + to[1] - middle[1]];
    const to = near.find((at) => {
      const rim = ring.map((corner) => shifted(corner, at));
      return distanceM(at, middle) > 1 && isOpen(open, rim) && !meetsGarden(site, rim, basin.id);
    });
    if (to === undefined) return [];
    const coordinates = site.lngLat(ring.map((corner) => shifted(corner, to)));
    const overflow =
      basin.overflow === undefined
        ? {}
        : { overflow: site.frame.toLngLat(shifted(basin.overflow, to)) };
    const { geometry } = basin.feature;
    return [
      {
        ...holding,
        key: `moved-${basin.id}`,
        puts: [
          {
            ...changed(basin.feature, overflow),
            geometry: { ...geometry, coordinates: [[...coordinates, coordinates[0]]] },
          },
        ],
        figures: { moved_m: distanceM(middle, to), name: featureName(basin.feature) },
        about: basin.id,
      },
    ];
  });
}

/** Whether a rim comes near another garden. */
function meetsGarden({ plan }: RemedySite, rim: Ring, own: string | null): boolean {
  const reachM = Math.max(...rim.map((at) => distanceM(at, centroid([rim]))));
  return plan.of.basin.some(({ id, shape }) => {
    if (id === own) return false;
    const middle = centroid(shape.rings);
    const otherM = Math.max(...shape.rings[0].map((at) => distanceM(at, middle)));
    return distanceM(middle, centroid([rim])) < reachM + otherM + 1;
  });
}

const holding = {
  verb: 'hold',
  hollow: null,
  endsIn: null,
  deletes: [],
  route: [],
  lengthM: 0,
  deepestM: 0,
  trenchM3: 0,
  rules: [],
} as const;
