import { cellCentre } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { distanceM, nearestEdges } from '../../frame/shapes';
import { openCellAt } from '../../ground/open-ground';
import { homeLot } from '../../plan/home-lot';
import type { LocalFeature } from '../../plan/local-plan';
import { spoutEnd, sumpEnd } from '../figures';
import type { Part } from '../part';
import { changed, type RemedySite } from '../site';

/** An extension is no longer than this, metres. Our choice, no source. */
const longestM = 12;
/** Places are tried this far apart, metres. Our choice, no source. */
const everyM = 1;

/** Water that is put down at a place and comes to a wall's water from there. */
interface Source {
  readonly feature: LocalFeature<'downspout'> | LocalFeature<'sump-outlet'>;
  readonly at: XY;
}

/** The outlets of own roofs, and sumps, whose water comes to a water at a wall. */
export function outletsTo(site: RemedySite, hollow: number): Source[] {
  const { plan, shape } = site;
  const sources: Source[] = [
    ...plan.of.downspout.flatMap((feature) => {
      const { outlet } = feature;
      if (outlet === 'storm-sewer' || feature.feature.properties.pipe !== undefined) return [];
      return [{ feature, at: outlet }];
    }),
    ...plan.of['sump-outlet'].map((feature) => ({ feature, at: feature.shape.at })),
  ];
  return sources.filter(({ feature, at }) => {
    if (homeLot(plan, [feature.shape.at])?.feature.properties.own !== true) return false;
    const cell = openCellAt(shape.ground, at);
    return cell !== -1 && site.hollowFrom(cell) === hollow;
  });
}

/** Each such outlet at the nearest lawful place from which its water comes to no wall, and all of them so. */
export function movedOutlets(site: RemedySite, hollow: number): Part[] {
  const moved = outletsTo(site, hollow).flatMap((source) => {
    const part = movedTo(site, source, hollow);
    return part === null ? [] : [part];
  });
  const spouts = moved.filter(({ verb }) => verb === 'move-outlet');
  if (spouts.length < 2) return moved;
  const all: Part = {
    ...spouts[0],
    key: 'move-downspouts',
    puts: spouts.flatMap(({ puts }) => puts),
    lengthM: spouts.reduce((sum, { lengthM }) => sum + lengthM, 0),
    figures: { count: spouts.length },
    about: null,
  };
  return [...moved, all];
}

function movedTo(site: RemedySite, { feature, at }: Source, hollow: number): Part | null {
  const isSump = feature.kind === 'sump-outlet';
  const end = isSump ? sumpEnd : spoutEnd;
  const from = feature.shape.at;
  const to = nearestPlace(site, from, end.fromWallM, end.fromLineM);
  if (to === null) return null;
  const lngLat = site.frame.toLngLat(to);
  return {
    key: `move-${feature.id}`,
    verb: isSump ? 'move-sump' : 'move-outlet',
    hollow: site.hollows[hollow].key,
    endsIn: { to: 'own-ground', feature: null },
    puts: [
      isSump
        ? { ...feature.feature, geometry: { ...feature.feature.geometry, coordinates: lngLat } }
        : changed(feature.feature, { outlet: lngLat }),
    ],
    deletes: [],
    route: [],
    lengthM: distanceM(from, to),
    deepestM: 0,
    trenchM3: 0,
    rules: [
      {
        rule: 'outlet-place',
        result: 'pass',
        why: `It ends ${end.published}.`,
        source: end.source,
      },
    ],
    figures: { moved_m: distanceM(at, to), count: 1 },
    about: feature.id,
  };
}

/** The nearest place, so far from walls and other lots, from which water comes to no wall and not at once to a neighbour. */
function nearestPlace(site: RemedySite, from: XY, fromWallM: number, fromLineM: number): XY | null {
  const { grid, effort, own, wallM } = site.ditch;
  const step = Math.max(1, Math.round(everyM / grid.cellM));
  const others = site.plan.of.lot.filter((lot) => !lot.feature.properties.own);
  let best: XY | null = null;
  let bestM = longestM;
  for (let row = 0; row < grid.height; row += step) {
    for (let column = 0; column < grid.width; column += step) {
      const cell = row * grid.width + column;
      if (effort[cell] === 0 || own[cell] === 0 || wallM[cell] < fromWallM) continue;
      const at = cellCentre(grid, cell);
      const awayM = distanceM(from, at);
      if (awayM >= bestM) continue;
      const place = { type: 'point', at } as const;
      if (others.some(({ shape }) => nearestEdges(place, shape).distanceM < fromLineM)) continue;
      if (site.courseFrom(cell) === null) continue;
      [best, bestM] = [at, awayM];
    }
  }
  return best;
}
