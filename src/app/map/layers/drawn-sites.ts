import type { LngLat } from '../../../../lib/frame/frame';
import type { CandidateSite } from '../../../../lib/siting/sizing/siting-result';
import type { Verdict } from '../../../../lib/verdict';
import type { AskedPlace, FoundJoint, FoundPlace } from '../../worker/places-picture';

/** A candidate site. */
export interface Site {
  readonly rank: number;
  readonly ring: readonly LngLat[];
  readonly at: LngLat;
  readonly result?: Verdict;
  /** Written in its badge instead of the rank, with words for those who do not see it. */
  readonly label?: { readonly text: string; readonly words: string };
  /** Ways by which roofs' water is led to it. */
  readonly leads?: readonly (readonly LngLat[])[];
}

/** Ids of what is drawn beside the ranked places start here. */
const jointFrom = 100;
const nearestId = 99;

/** The id on the map of one of several basins that share the water, by its number from 1. */
export function jointSiteId(number: number): number {
  return jointFrom + number;
}

/** A letter for one of several basins, by its number from 1. */
export function jointLetter(number: number): string {
  return String.fromCharCode(64 + number);
}

/** Places as the map draws them: single ones, or those that share the water; and the nearest to a place asked about. */
export function drawnSites(
  ranked: readonly FoundPlace[],
  joint: FoundJoint | null,
  asked: AskedPlace | null,
): Site[] {
  const sites: Site[] =
    joint === null
      ? ranked.map((place) => drawn(place, place.site.rank))
      : joint.basins.map((place, i) => ({
          ...drawn(place, jointSiteId(i + 1)),
          label: { text: jointLetter(i + 1), words: `Basin ${jointLetter(i + 1)}` },
        }));
  if (asked !== null && asked.nearest !== null) {
    const { at, ring } = asked.nearest;
    const label = { text: '→', words: 'Nearest place that would do' };
    sites.push({ rank: nearestId, at, ring, label, result: 'check' });
  }
  return sites;
}

function drawn({ site, at, ring, leads }: FoundPlace, rank: number): Site {
  return { rank, at, ring, leads, result: resultOf(site) };
}

function resultOf({ setbacks }: CandidateSite): Verdict {
  return setbacks.summary.check > 0 ? 'check' : 'pass';
}
