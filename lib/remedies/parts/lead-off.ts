import { cellAt, cellCentre } from '../../elevation/grid';
import type { XY } from '../../frame/frame';
import { centroid, distanceM, lengthM, nearestEdges, nearestOnSegment } from '../../frame/shapes';
import { heightAt } from '../../ground/height-at';
import { openCellAt } from '../../ground/open-ground';
import { usualDiameterM } from '../../ground/pipe-capacity';
import { featureName } from '../../plan/feature-name';
import type { LocalFeature } from '../../plan/local-plan';
import type { PlanFeature } from '../../plan/schema';
import { locateState } from '../../setback/locate/locates';
import { trenchFindings } from '../../siting/leading/trench-findings';
import { leastSwale, lotSwale, pipeCover, pipeFall, spoutEnd, swaleNearWall } from '../figures';
import { eachAround } from '../hollows';
import { newId, type Part, type PartEnd, type RemedyRule } from '../part';
import { cellsWithin, type RouteEnd } from '../route/ditch-ground';
import { cheapestRoutes, setOut, type CellRoute, type DitchKind } from '../route/route';
import { changed, type RemedySite } from '../site';

/** Bed and sides of a swale: the bed twice as wide as the least published. Our choices, no source. */
const bedWidthM = 0.3;
const sideSlope = 3;
/** No deeper: a child's knee, and the sides still fit a lawn. Our choice, no source. */
const deepestSwaleM = 0.6;
/** A pipe's trench, and no deeper than a person may dig without shoring it. Our choices, no source. */
const trenchWidthM = 0.3;
const deepestPipeM = 1.2;
/** A trench from a downspout begins within this of it, metres. Our choice, no source. */
const nearSpoutM = 1.5;
/** The bed begins this far below the bottom of the water, metres. Our choice, no source. */
const belowPitM = 0.02;
/** A swale from a notch begins so far beyond the rim, where the berm has come down, metres. Our choice, no source. */
const beyondBermM = 1.5;
/** A gap in a kerb is as wide as a swale between its shoulders, and some more, metres. Our choice, no source. */
const openingM = 1.2;

export const swaleKind: DitchKind = {
  leastDepthM: leastSwale.depthM,
  mostDepthM: deepestSwaleM,
  fall: (wallM) => (wallM < swaleNearWall.withinM ? swaleNearWall.fall : lotSwale.fall),
  sectionM2: (depthM) => depthM * (bedWidthM + sideSlope * depthM),
  runOutM: 8,
  endsIn: () => true,
};

export const pipeKind: DitchKind = {
  leastDepthM: pipeCover.coverM + usualDiameterM,
  mostDepthM: deepestPipeM,
  fall: () => pipeFall.fall,
  sectionM2: (depthM) => depthM * trenchWidthM,
  runOutM: 8,
  endsIn: () => true,
};

/** A swale from the bottom of a water to every end that can be reached, the cheapest way to each. */
export function swalesFrom(site: RemedySite, hollow: number): Part[] {
  const { pit, key } = site.hollows[hollow];
  const from = { cell: pit, bedM: bottomM(site, pit) - belowPitM };
  const routes = cheapestRoutes(site.ditch, swaleKind, from, (cell) => site.courseFrom(cell));
  return eachEnd(routes).flatMap((route) => {
    const part = swalePart(site, route, key);
    return part === null ? [] : [part];
  });
}

/** A swale from the notch of a basin to every end but basins, straight out over its berm at first. */
export function swalesFromNotch(site: RemedySite, basinId: string): Part[] {
  const form = site.shape.ground.basins.find(({ id }) => id === basinId);
  if (form === undefined) return [];
  const { grid } = site.ditch;
  const middle = centroid([form.rim]);
  const notch = form.overflowAt;
  const awayM = distanceM(middle, notch);
  const start: XY = [
    notch[0] + ((notch[0] - middle[0]) / awayM) * beyondBermM,
    notch[1] + ((notch[1] - middle[1]) / awayM) * beyondBermM,
  ];
  const cell = cellAt(grid, ...start);
  if (cell === -1) return [];
  const sillM = form.overflowM + site.shape.ground.grid.datumM - grid.datumM;
  const bedM = Math.min(sillM, grid.z[cell]) - belowPitM;
  const kind: DitchKind = {
    ...swaleKind,
    endsIn: ({ to }) => to === 'street' || to === 'back-swale',
  };
  // What is dug nearer to the rim the berm would cover again.
  const effort = site.ditch.effort.slice();
  const rim = { type: 'polygon', rings: [form.rim] } as const;
  for (const near of cellsWithin(grid, rim, beyondBermM - grid.cellM)) effort[near] = 0;
  const routes = cheapestRoutes({ ...site.ditch, effort }, kind, { cell, bedM }, () => null);
  return eachEnd(routes).flatMap((route) => {
    const part = swalePart(site, route, null, { at: notch, bedM: sillM });
    return part === null ? [] : [{ ...part, key: `notch-${part.key}`, about: basinId }];
  });
}

/** A yard drain at the bottom of a water, and a pipe from it to every end that can be reached; or into the sewer. */
export function pipesFrom(site: RemedySite, hollow: number): Part[] {
  const { pit, key } = site.hollows[hollow];
  const { ditch } = site;
  const from = { cell: pit, bedM: ditch.grid.z[pit] - pipeKind.leastDepthM };
  const routes = cheapestRoutes(ditch, pipeKind, from, (cell) => site.courseFrom(cell));
  return [
    ...eachEnd(routes).flatMap((route) => {
      const part = pipePart(site, route, key);
      if (part === null) return [];
      const drainId = newId(site.plan.byId, `remedy-drain-${key}`);
      const [{ id: pipe }] = part.puts;
      const drain = { kind: 'yard-drain', name: 'Yard drain', pipe };
      return [{ ...part, puts: [...part.puts, site.point(drainId, part.route[0], drain)] }];
    }),
    sewerPart(site, pit, key),
  ];
}

/** A downspout's water led on below ground, to each end that its pipe can reach: a lawful place, no wall's water. */
export function pipesFromSpout(
  site: RemedySite,
  hollow: number,
  spout: LocalFeature<'downspout'>,
): Part[] {
  const { ditch } = site;
  const cell = openCellAt(site.shape.ground, spout.shape.at);
  const start = cell === -1 ? -1 : nearestDug(site, cell);
  if (start === -1) return [];
  const from = { cell: start, bedM: ditch.grid.z[start] - pipeKind.leastDepthM };
  const routes = cheapestRoutes(ditch, pipeKind, from, (at) =>
    ditch.wallM[at] < spoutEnd.fromWallM ? null : site.courseFrom(at),
  );
  const { key } = site.hollows[hollow];
  return eachEnd(routes).flatMap((route): Part[] => {
    const part = pipePart(site, route, key);
    if (part === null) return [];
    const [{ id: pipe }] = part.puts;
    return [
      {
        ...part,
        key: `${spout.id}-${part.key}`,
        verb: 'move-outlet',
        puts: [...part.puts, changed(spout.feature, { pipe })],
        rules: [
          ...part.rules,
          {
            rule: 'outlet-place',
            result: 'pass',
            why: `It ends ${spoutEnd.published}.`,
            source: spoutEnd.source,
          },
        ],
        figures: { ...part.figures, count: 1, below_ground: 'pipe' },
        about: spout.id,
      },
    ];
  });
}

/** A trench begins where digging may: the nearest such cell to a place at the wall, -1 where none is near. */
function nearestDug({ ditch }: RemedySite, cell: number): number {
  let [best, bestCells] = [-1, Infinity];
  const { width } = ditch.grid;
  const reach = Math.ceil(nearSpoutM / ditch.grid.cellM);
  eachAround(ditch.grid, cell, reach, (at) => {
    const away = Math.hypot(
      (at % width) - (cell % width),
      Math.floor(at / width) - Math.floor(cell / width),
    );
    if (ditch.effort[at] > 0 && away < bestCells) [best, bestCells] = [at, away];
  });
  return best;
}

/** Deeper than this no way is looked for at all, metres. Our choice, no source. */
const anyDepthM = 2;

/**
 * To each end how deep the cheapest way would lie if it might lie as deep as it has to, metres: says what binds where no way is
 * proposed.
 */
export function depthsToEnds(
  site: RemedySite,
  hollow: number,
  kind: DitchKind,
): ReadonlyMap<string, number> {
  const { ditch } = site;
  const { pit } = site.hollows[hollow];
  const bedM = ditch.grid.z[pit] - (kind === pipeKind ? kind.leastDepthM : belowPitM);
  const deep = { ...kind, mostDepthM: anyDepthM };
  const routes = cheapestRoutes(ditch, deep, { cell: pit, bedM }, (cell) => site.courseFrom(cell));
  const depths = new Map<string, number>();
  for (const route of routes) {
    const { to, feature } = endOf(route.end);
    const key = `${to} ${feature ?? ''}`;
    const depthM = Math.max(...route.cells.map((cell, i) => ditch.grid.z[cell] - route.bedM[i]));
    depths.set(key, Math.min(depthM, depths.get(key) ?? Infinity));
  }
  return depths;
}

/** Of ways to several streets the cheapest; of ways to daylight each class. */
function eachEnd(routes: readonly CellRoute[]): CellRoute[] {
  const sorted = [...routes].sort((a, b) => a.cost - b.cost);
  let street = false;
  return sorted.filter(({ end }) => {
    if (end.to !== 'street') return true;
    const isFirst = !street;
    street = true;
    return isFirst;
  });
}

/** Where the ground's own bottom lies, in the grid that ditches are dug in. */
function bottomM(site: RemedySite, pit: number): number {
  return site.ditch.grid.z[pit];
}

function endOf(end: RouteEnd): PartEnd {
  switch (end.to) {
    case 'basin':
    case 'back-swale':
      return { to: end.to, feature: end.id };
    case 'street':
      return { to: 'street', feature: null };
    case 'daylight':
      return { to: 'own-ground', feature: null };
  }
}

/** A key in words for where a way ends, on a lawn with where its water goes on to. */
function endKey(site: RemedySite, { end, cells }: CellRoute): string {
  if (end.to !== 'daylight') return end.to === 'street' ? 'street' : end.id;
  const [to, id = ''] = (site.courseFrom(cells[cells.length - 1]) ?? 'stays').split(' ');
  if (to === 'basin') return `lawn-above-${id}`;
  return to === 'lot' ? `lawn-towards-${id}` : to === 'off' ? 'lawn-towards-outside' : 'lawn';
}

/** @param first - a place that it begins at, before the way itself. */
function swalePart(
  site: RemedySite,
  route: CellRoute,
  hollow: string | null,
  first?: { readonly at: XY; readonly bedM: number },
): Part | null {
  const { grid } = site.ditch;
  const way = setOut(site.ditch, swaleKind, route);
  const out =
    first === undefined
      ? way
      : { points: [first.at, ...way.points], bedM: [first.bedM, ...way.bedM] };
  const { points } = out;
  if (points.length < 2) return null;
  const below = points.map((at, i) =>
    Math.max(0, Math.round((heightAt(grid, at) - out.bedM[i]) * 1000) / 1000),
  );
  const dug = dugRules(site, points);
  if (dug === null) return null;
  const { plan } = site;
  const key = `swale-to-${endKey(site, route)}`;
  const openings = openKerbs(site, points);
  const id = newId(plan.byId, `remedy-${hollow === null ? 'notch-' : ''}${key}`);
  const endsIn = endOf(route.end);
  return {
    key,
    verb: 'lead-off',
    hollow,
    endsIn,
    puts: [
      site.line(id, points, {
        kind: 'swale',
        name: `Swale to ${endName(site, endsIn)}`,
        width_m: bedWidthM + 2 * sideSlope * leastSwale.depthM,
        depth_m: leastSwale.depthM,
        side_slope: sideSlope,
        bed_below_m: below,
        least_fall: lotSwale.fall,
      }),
      ...openings.puts,
    ],
    deletes: openings.deletes,
    route: points,
    lengthM: lengthM(points),
    deepestM: Math.max(...route.cells.map((cell, i) => grid.z[cell] - route.bedM[i])),
    trenchM3: 0,
    rules: [fallRule(site, route), ...dug, ...openings.rules],
    figures: { least_fall: lotSwale.fall },
    about: endsIn.feature,
  };
}

/** A pipe along a way; what runs into it comes beside it. */
function pipePart(site: RemedySite, route: CellRoute, hollow: string): Part | null {
  const { grid } = site.ditch;
  const { points, bedM } = setOut(site.ditch, pipeKind, route);
  const whole = lengthM(points);
  const slope = (bedM[0] - bedM[bedM.length - 1]) / whole;
  if (points.length < 2 || !(slope > 0)) return null;
  const dug = dugRules(site, points);
  if (dug === null) return null;
  const { plan } = site;
  const key = `pipe-to-${endKey(site, route)}`;
  const id = newId(plan.byId, `remedy-${key}`);
  const endsIn = endOf(route.end);
  return {
    key,
    verb: 'below-ground',
    hollow,
    endsIn,
    puts: [
      site.line(id, points, {
        kind: 'drain-pipe',
        name: `Pipe to ${endName(site, endsIn)}`,
        diameter_m: usualDiameterM,
        slope: Math.round(slope * 10_000) / 10_000,
      }),
    ],
    deletes: [],
    route: points,
    lengthM: whole,
    deepestM: Math.max(...route.cells.map((cell, i) => grid.z[cell] - route.bedM[i])),
    trenchM3: trenchOf(site, route),
    rules: [
      {
        rule: 'pipe-fall',
        result: slope >= pipeFall.fall - 1e-6 ? 'pass' : 'fail',
        why: `The pipe falls by ${(100 * slope).toFixed(1)} %.`,
        source: pipeFall.source,
      },
      ...dug,
    ],
    figures: { diameter_m: usualDiameterM, slope },
    about: endsIn.feature,
  };
}

function sewerPart(site: RemedySite, pit: number, hollow: string): Part {
  const at = cellCentre(site.ditch.grid, pit);
  const id = newId(site.plan.byId, `remedy-drain-${hollow}`);
  return {
    key: 'drain-to-sewer',
    verb: 'below-ground',
    hollow,
    endsIn: { to: 'storm-sewer', feature: null },
    puts: [site.point(id, at, { kind: 'yard-drain', name: 'Yard drain', outlet: 'storm-sewer' })],
    deletes: [],
    route: [],
    lengthM: 0,
    deepestM: 0,
    trenchM3: 0,
    rules: [
      {
        rule: 'sewer-leave',
        result: 'check',
        why: 'Only if there is a storm sewer to join and the city lets you: ask its works department where it lies and how deep.',
        source: null,
      },
    ],
    figures: { diameter_m: usualDiameterM },
    about: null,
  };
}

/** Earth that the trench of a way takes out, m3. */
function trenchOf({ ditch }: RemedySite, { cells, bedM }: CellRoute): number {
  let sum = 0;
  for (let i = 1; i < cells.length; i++) {
    const stepM = distanceM(cellCentre(ditch.grid, cells[i - 1]), cellCentre(ditch.grid, cells[i]));
    sum += stepM * pipeKind.sectionM2(Math.max(0, ditch.grid.z[cells[i]] - bedM[i]));
  }
  return sum;
}

/** What an end is called in the name of a feature. */
function endName({ plan }: RemedySite, { to, feature }: PartEnd): string {
  const found = feature === null ? undefined : plan.byId.get(feature);
  if (found !== undefined) return featureName(found.feature);
  return to === 'street' ? 'the street' : 'low ground';
}

function fallRule(site: RemedySite, { cells }: CellRoute): RemedyRule {
  const isNear = cells.some((cell) => site.ditch.wallM[cell] < swaleNearWall.withinM);
  return isNear
    ? {
        rule: 'swale-near-wall',
        result: 'pass',
        why: 'Within 3.05 m of a wall its bed falls by 2 % at least.',
        source: swaleNearWall.source,
      }
    : {
        rule: 'swale-fall',
        result: 'pass',
        why: 'Its bed falls by 1 % at least.',
        source: lotSwale.source,
      };
}

/** What digging along a way meets; `null` where it runs along a line in the ground. */
export function dugRules(site: RemedySite, points: readonly XY[]): RemedyRule[] | null {
  const { plan, ruleSet, today, locates } = site;
  const found = trenchFindings({ plan, ruleSet, today, locates }, points);
  if (found === null) return null;
  return found.map(({ what, feature, feature_name, why }) => {
    const line = plan.of.utility.find(({ id }) => id === feature);
    const isLocated = line !== undefined && locateState(line.feature, today) === 'current';
    return {
      rule: `dig-${what}`,
      result: isLocated ? 'pass' : 'check',
      why: `${line === undefined || isLocated ? '' : 'Locate first. '}${feature_name}: ${why}`,
      source: null,
    };
  });
}

/** Kerbs that a way crosses, opened where it does. */
function openKerbs(
  site: RemedySite,
  points: readonly XY[],
): { puts: PlanFeature[]; deletes: string[]; rules: RemedyRule[] } {
  const puts: PlanFeature[] = [];
  const rules: RemedyRule[] = [];
  for (const kerb of site.plan.of.kerb) {
    if (kerb.feature.properties.in_elevation === true) continue;
    const [first, second] = openedKerb(kerb, points) ?? [];
    if (first === undefined || second === undefined) continue;
    const coordinates = (line: readonly XY[]) => site.lngLat(line);
    const geometry = { ...kerb.feature.geometry, coordinates: coordinates(first) };
    puts.push({ ...kerb.feature, geometry });
    puts.push({
      ...changed(kerb.feature, { state: 'proposed' }),
      id: newId(site.plan.byId, `${kerb.id}-beyond-gap`),
      geometry: { ...kerb.feature.geometry, coordinates: coordinates(second) },
    });
    rules.push({
      rule: 'kerb-opening',
      result: 'check',
      why: `${featureName(kerb.feature)} stands across it and would dam it: it is drawn with a gap of ${openingM} m there, which the street’s owner has to allow.`,
      source: null,
    });
  }
  return { puts, deletes: [], rules };
}

/** A kerb in two pieces with a gap where a way crosses it or comes up against it; `null` where it does neither. */
function openedKerb(
  { shape }: LocalFeature<'kerb'>,
  way: readonly XY[],
): readonly [XY[], XY[]] | null {
  const { points } = shape;
  const found = nearestEdges(shape, { type: 'line', points: way });
  if (found.distanceM >= openingM / 2) return null;
  const at = found.from;
  const segment = points.findIndex(
    (to, i) => i > 0 && distanceM(nearestOnSegment(at, points[i - 1], to), at) < 1e-6,
  );
  if (segment === -1) return null;
  const first = shortened([...points.slice(0, segment), at], openingM / 2);
  const second = shortened([...points.slice(segment)].reverse().concat([at]), openingM / 2);
  return first.length < 2 || second.length < 2 ? null : [first, second.reverse()];
}

/** A line without its last so many metres. */
function shortened(line: readonly XY[], byM: number): XY[] {
  const kept = [...line];
  let left = byM;
  while (kept.length >= 2) {
    const [a, b] = kept.slice(-2);
    const length = distanceM(a, b);
    if (length > left) {
      const t = (length - left) / length;
      kept[kept.length - 1] = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
      return kept;
    }
    left -= length;
    kept.pop();
  }
  return kept;
}
