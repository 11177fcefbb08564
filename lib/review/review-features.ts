import { featuresOf, type FeatureOf, type Plan } from '../plan/schema';
import type { ReviewedLot, ReviewResult } from './review-result';

/** A lot of a plan with what was found of it. */
export interface ReviewedFeature {
  readonly type: 'Feature';
  readonly id: string;
  readonly geometry: FeatureOf<'lot'>['geometry'];
  readonly properties: ReviewedLot;
}

/** The lots as features (GeoJSON), with what was found of each. */
export function reviewFeatures(
  { lots }: ReviewResult,
  plan: Plan,
): { readonly type: 'FeatureCollection'; readonly features: readonly ReviewedFeature[] } {
  const found = new Map(lots.map((row) => [row.lot, row]));
  const features = featuresOf(plan, 'lot').flatMap(({ id, geometry }): ReviewedFeature[] => {
    const properties = found.get(id);
    return properties === undefined ? [] : [{ type: 'Feature', id, geometry, properties }];
  });
  return { type: 'FeatureCollection', features };
}
