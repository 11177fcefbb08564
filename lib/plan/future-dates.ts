import { featureName } from './feature-name';
import { isDay, type Plan } from './schema';

/** A sentence for each feature that was seen, read or tested on a day that has not come yet. */
export function futureDates({ features }: Plan, today: string): string[] {
  return features.flatMap((feature) => {
    const { properties } = feature;
    const on: unknown = 'on' in properties ? properties.on : undefined;
    if (typeof on !== 'string' || !isDay(on) || on <= today) return [];
    return [
      `${featureName(feature)} is dated ${on}, which has not come yet: correct the day, or nobody can have seen it`,
    ];
  });
}
