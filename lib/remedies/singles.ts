import type { Part } from './part';
import { fillHollow } from './parts/fill-hollow';
import { gradesAway } from './parts/grade-away';
import { barrels, largerBasins } from './parts/hold';
import { pipesFrom, swalesFrom, swalesFromNotch } from './parts/lead-off';
import { movedOutlets } from './parts/move-outlets';
import { bermsAbove } from './parts/turn-aside';
import type { RefusedRow } from './remedies-result';
import type { RemedySite } from './site';

/** Parts that stand for one another: the first that dries, else the one that leaves least, is tried on. */
export interface Choice {
  readonly parts: readonly Part[];
}

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
    yield { parts: bermsAbove(site, hollow) };
  }
}

/** What holds back, or leads elsewhere, what others send on. */
export function holdingParts(site: RemedySite): Part[] {
  return [
    ...site.plan.of.basin.flatMap(({ id }) => swalesFromNotch(site, id)),
    ...largerBasins(site),
  ];
}

/** Says of each end that there is which cannot be reached. */
function refuseMissing(
  site: RemedySite,
  hollow: number,
  remedy: 'lead-off' | 'below-ground',
  found: readonly Part[],
  refused: RefusedRow[],
): void {
  const what = remedy === 'lead-off' ? 'swale' : 'pipe';
  const reached = new Set(
    found.map(({ endsIn }) => `${endsIn?.to ?? ''} ${endsIn?.feature ?? ''}`),
  );
  const streets = site.ditch.ends.some(({ to }) => to === 'street');
  const ends = [
    ...(streets ? [{ to: 'street', feature: '', key: 'street' }] : []),
    ...site.ditch.ends.flatMap((end) =>
      end.to === 'basin' || end.to === 'back-swale'
        ? [{ to: end.to, feature: end.id, key: end.id }]
        : [],
    ),
    { to: 'own-ground', feature: '', key: 'low-ground' },
  ];
  for (const { to, feature, key } of ends) {
    if (reached.has(`${to} ${feature}`)) continue;
    refused.push({
      remedy,
      key: `${what}-to-${key}`,
      low_spot: site.hollows[hollow].key,
      because: `No way: from the bottom of the low spot no ${what} that falls enough gets there over ground that may be dug, not too deep and not through buildings, septic field, tank, well, trunks or other people’s land.`,
    });
  }
}
