import type { Part } from './part';
import { fillHollow } from './parts/fill-hollow';
import { gradesAway } from './parts/grade-away';
import { barrels, largerBasins } from './parts/hold';
import {
  depthsToEnds,
  pipeKind,
  pipesFrom,
  pipesFromSpout,
  swaleKind,
  swalesFrom,
  swalesFromNotch,
} from './parts/lead-off';
import { movedOutlets, outletsTo } from './parts/move-outlets';
import { gardensOnTheWay } from './parts/place-garden';
import { bermsAbove, wallsAbove } from './parts/turn-aside';
import { formatLength } from '../units/format';
import type { UnitSystem } from '../units/units';
import type { RefusedRow } from './remedies-result';
import type { DitchKind } from './route/route';
import type { RemedySite } from './site';

/** Parts that stand for one another: the first that dries, else the one that leaves least, is tried on. */
export interface Choice {
  readonly parts: readonly Part[];
}

/** Pipes are looked for from so many downspouts of each water. Our choice, no source. */
const mostSpouts = 2;

/**
 * Everything that can be done about each water by itself, what helps most often first.
 *
 * @param refused - receives what there is no lawful way for, and why.
 */
export function* singleParts(site: RemedySite, refused: RefusedRow[]): Generator<Choice> {
  const all = site.hollows.map((_, i) => i);
  for (const hollow of all) {
    const swales = swalesFrom(site, hollow);
    for (const part of swales) yield { parts: [part] };
    refuseMissing(site, hollow, 'lead-off', swales, refused);
  }
  for (const hollow of all) {
    yield { parts: fillHollow(site, hollow) };
    for (const parts of gradesAway(site, hollow)) yield { parts };
    for (const part of movedOutlets(site, hollow)) yield { parts: [part] };
    yield { parts: barrels(site, hollow) };
  }
  for (const hollow of all) {
    const pipes = pipesFrom(site, hollow);
    for (const part of pipes) yield { parts: [part] };
    refuseMissing(site, hollow, 'below-ground', pipes, refused);
    for (const { feature } of outletsTo(site, hollow).slice(0, mostSpouts)) {
      if (feature.kind === 'downspout') yield { parts: pipesFromSpout(site, hollow, feature) };
    }
    yield { parts: bermsAbove(site, hollow) };
    yield { parts: wallsAbove(site, hollow) };
  }
}

/** What holds back, or leads elsewhere, what others send on. */
export function holdingParts(site: RemedySite): Part[] {
  return [
    ...site.plan.of.basin.flatMap(({ id }) => swalesFromNotch(site, id)),
    ...largerBasins(site),
    ...site.hollows.slice(0, 1).flatMap((_, hollow) => gardensOnTheWay(site, hollow)),
  ];
}

/** Says of each end that there is which cannot be reached, and what binds. */
function refuseMissing(
  site: RemedySite,
  hollow: number,
  remedy: 'lead-off' | 'below-ground',
  found: readonly Part[],
  refused: RefusedRow[],
): void {
  const what = remedy === 'lead-off' ? 'swale' : 'pipe';
  const kind = remedy === 'lead-off' ? swaleKind : pipeKind;
  const reached = new Set(
    found.map(({ endsIn }) => `${endsIn?.to ?? ''} ${endsIn?.feature ?? ''}`),
  );
  const streets = site.ditch.ends.some(({ to }) => to === 'street');
  const missing = [
    ...(streets ? [{ end: 'street ', key: 'street' }] : []),
    ...site.ditch.ends.flatMap((end) =>
      end.to === 'basin' || end.to === 'back-swale'
        ? [{ end: `${end.to} ${end.id}`, key: end.id }]
        : [],
    ),
    { end: 'own-ground ', key: 'low-ground' },
  ].filter(({ end }) => !reached.has(end));
  if (missing.length === 0) return;
  const depths = depthsToEnds(site, hollow, kind);
  const units = site.plan.plan.lotfall.units ?? 'metric';
  for (const { end, key } of missing) {
    refused.push({
      remedy,
      key: `${what}-to-${key}`,
      low_spot: site.hollows[hollow].key,
      ...noWay(what, kind, depths.get(end), units),
    });
  }
}

function noWay(
  what: string,
  { mostDepthM }: DitchKind,
  depthM: number | undefined,
  units: UnitSystem,
): Pick<RefusedRow, 'because' | 'would_change'> {
  if (depthM === undefined) {
    return {
      because: `No way: from the bottom of the low spot no ${what} that falls enough gets there over ground that may be dug, round buildings, septic field, tank, well, trunks and other people’s land.`,
      would_change:
        'An end that lies lower, a pump, or leave to dig on the ground that lies between.',
    };
  }
  const deep = formatLength(depthM, units);
  if (depthM > mostDepthM) {
    return {
      because: `Too deep: the ${what} would lie ${deep} below the ground, and ${formatLength(mostDepthM, units)} is the most that is taken for one.`,
      would_change:
        what === 'swale'
          ? 'A pipe, which may lie deeper, an end that lies lower, or a pump.'
          : 'A trench that is shored, an end that lies lower, or a pump.',
    };
  }
  return {
    because:
      'No way but along a line in the ground, within its tolerance zone: have it located, or ask its owner to move it.',
    would_change: 'A current locate that puts the line elsewhere, or moving it.',
  };
}
