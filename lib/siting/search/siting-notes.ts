import { homeowners } from '../../basin/form/size-factors';
import { sourceLine } from '../../source';
import { leastShare, type SearchedLot } from '../sizing/searched-lot';
import type { SitingInput } from '../sizing/siting-input';
import type { CandidateSite, JointSites, SitingNote } from '../sizing/siting-result';
import { featureName } from '../../plan/feature-name';

/**
 * Cells coarser than these are warned of and refused (our choice, no source), the thousandth that a projection's scale may
 * add to a side of 2 or 5 m let pass.
 */
const coarseCellM = 2 * 1.001;
const tooCoarseCellM = 5 * 1.001;

/** Why the search is not begun; `undefined` when it is. */
export function refusal({ elevation, plan }: SitingInput): SitingNote | undefined {
  if (elevation.cellM > tooCoarseCellM) {
    return {
      code: 'cells-too-coarse',
      text: `The elevation has cells of ${elevation.cellM.toFixed(1)} m; a rain garden is no larger than one of them, so no site can be judged. Use cells of 5 m or less, better 1 m.`,
    };
  }
  if (!plan.of.lot.some((lot) => lot.feature.properties.own)) {
    return {
      code: 'no-own-lot',
      text: 'The plan has no lot that is your own; draw its line first.',
    };
  }
  return undefined;
}

/**
 * What the reader must know about an answer.
 *
 * @param broken - how often each binding rule was broken by a rim that was tried.
 */
export function sitingNotes(
  searched: SearchedLot,
  sites: readonly CandidateSite[],
  joint: JointSites | null,
  broken: ReadonlyMap<string, number>,
): SitingNote[] {
  const { elevation, basins = 1 } = searched.input;
  const notes: SitingNote[] = [];
  if (elevation.cellM > coarseCellM) {
    notes.push({
      code: 'cells-coarse',
      text: `The elevation has cells of ${elevation.cellM.toFixed(1)} m; slopes and catchments of something as small as a rain garden are rough at that size.`,
    });
  }
  if (sites.length === 0) notes.push(nowhere(searched, broken));
  else notes.push(...lotsWithout(searched.input, sites));
  if (sites.some((site) => site.area_m2 < leastShare * site.wanted_m2)) {
    notes.push({
      code: 'undersized',
      text: `Some sites are smaller than the size factors ask for by more than 30 %, up to which a garden does most of its work (${sourceLine(homeowners)}): they hold less of the storm, or two gardens share the water.`,
    });
  }
  if (joint === null && basins > 1) {
    notes.push({
      code: 'no-second-basin',
      text: `There is no room for ${basins} basins that lie apart from one another.`,
    });
  }
  return notes;
}

/** Of several own lots, those on which no place was found. */
function lotsWithout({ plan }: SitingInput, sites: readonly CandidateSite[]): SitingNote[] {
  const own = plan.of.lot.filter((lot) => lot.feature.properties.own);
  if (own.length < 2) return [];
  return own
    .filter((lot) => sites.every((site) => site.lot !== lot.id))
    .map((lot) => ({
      code: 'lot-without-place',
      text: `None of the places shown lies on ${featureName(lot.feature)}: they are better elsewhere, or the rules leave no room there.`,
    }));
}

/** Why there are no sites, with the rules that bind most. */
function nowhere(searched: SearchedLot, broken: ReadonlyMap<string, number>): SitingNote {
  const { lotM2, allowedM2, refused } = searched.forbidden;
  const binding = refused.filter((rule) => rule.binding === 'must' && rule.area_m2 > 0).slice(0, 3);
  const list = binding
    .map((rule) => `${rule.title} (refuses ${percent(rule.area_m2 / lotM2)})`)
    .join(', ');
  if (allowedM2 <= 0) {
    return {
      code: 'nowhere',
      text: `Nowhere on this lot complies. What binds most: ${list}.`,
    };
  }
  const { rules } = searched.input.ruleSet;
  const onRims = [...broken.entries()]
    .sort((a, b) => b[1] - a[1])
    .map(([id]) => rules.find((rule) => rule.id === id)?.title ?? id);
  const most = onRims.length > 0 ? `${onRims.join(', ')} (at the places that were tried)` : list;
  return {
    code: 'does-not-fit',
    text: `The rules leave ${percent(allowedM2 / lotM2)}, but no basin of ${searched.minAreaM2.toFixed(1)} m² or more complies there. What binds most: ${most}.`,
  };
}

function percent(share: number): string {
  return `${Math.round(100 * share)} % of the lot`;
}
