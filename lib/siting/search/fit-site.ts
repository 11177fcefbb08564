import { patternSearch, type Tried } from './pattern-search';
import { areApart } from '../sizing/rank-sites';
import { leastShare, type SearchedLot } from '../sizing/searched-lot';
import type { Sized } from '../sizing/sized-place';
import { basinOutline, type OutlineForm, type BasinOutline } from '../sizing/basin-outline';

/** First steps: metres east and north, radians, shares of the aspect and of the area. */
const firstSteps = [0.5, 0.5, Math.PI / 12, 0.15, 0.08];
const halvings = 3;
const triesAtMost = 100;
/** Length over width within which a form is still that form. Our choice, no source. */
const aspects: Readonly<Record<OutlineForm, readonly [number, number]>> = {
  round: [1, 3.5],
  oval: [1, 3.5],
  kidney: [1.4, 3],
  teardrop: [1.2, 2.5],
};

export interface FitAbout {
  /** Places that it must stay apart from. */
  readonly others: readonly Sized[];
  /** Not larger than this: a place that captures enough needs no more room. */
  readonly atMostM2: number;
  /** The score of a sized place, with the storm gone through it where that can be done; `null` where a rule forbids it. */
  readonly judge: (sized: Sized) => Tried<Sized> | null;
  readonly pause: () => Promise<void>;
}

/**
 * Moves, turns, stretches and resizes a place for a better score, by full sizing and every rule at each try, until no
 * small change is better. It never enters ground where a binding rule is broken.
 *
 * @returns the place itself when nothing near it is better.
 * Cost: at most a hundred sizings.
 */
export async function fitSite(
  searched: SearchedLot,
  place: Sized,
  value: number,
  { others, atMostM2, judge, pause }: FitAbout,
): Promise<Tried<Sized>> {
  const { at, outline, areaM2 } = place;
  return patternSearch<Sized>(
    (to) => {
      const found = moved(searched, place, to, atMostM2);
      if (found === null || !others.every((other) => areApart(found, other))) return null;
      return judge(found);
    },
    [...at, outline.turnRad, outline.aspect, areaM2],
    { value, what: place },
    [
      firstSteps[0],
      firstSteps[1],
      firstSteps[2],
      firstSteps[3] * outline.aspect,
      firstSteps[4] * areaM2,
    ],
    { halvings, triesAtMost, pause },
  );
}

/** The place as the search would have it: `null` where it breaks a rule or has not the size that it should. */
function moved(
  searched: SearchedLot,
  place: Sized,
  [x, y, turnRad, aspect, areaM2]: readonly number[],
  atMostM2: number,
): Sized | null {
  const { form } = place.outline;
  const [least, widest] = aspects[form];
  if (aspect < least || aspect > widest) return null;
  if (areaM2 < searched.minAreaM2 || areaM2 > atMostM2) return null;
  const outline = outlineNear(place.outline, aspect, turnRad);
  const found = searched.sizeAt([x, y], outline, areaM2);
  if (!found.fits) return null;
  const wantedM2 = searched.bounded(found.wantedM2);
  // Neither smaller than does most of the work nor larger than asked for; or no more so than it was.
  const tooSmall = areaM2 < Math.min(leastShare * wantedM2, place.areaM2);
  const tooLarge = areaM2 > Math.max(1.02 * wantedM2, place.areaM2);
  return tooSmall || tooLarge ? null : found;
}

function outlineNear(outline: BasinOutline, aspect: number, turnRad: number): BasinOutline {
  const { form } = outline;
  if (outline.aspect === aspect && outline.turnRad === turnRad) return outline;
  // A round basin that is stretched is an oval.
  return basinOutline(form === 'round' && aspect > 1 ? 'oval' : form, aspect, turnRad);
}
