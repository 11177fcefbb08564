import { InputError } from '../errors';
import { featuresOf, type FeatureOf, type Plan } from './schema';
import { featureName } from './feature-name';

/**
 * The lot being planned. @throws {InputError} `no-own-lot` or `many-own-lots`.
 *
 * @param fileName - how the user knows the plan; begins the message.
 */
export function ownLot(plan: Plan, fileName: string): FeatureOf<'lot'> {
  const own = featuresOf(plan, 'lot').filter(({ properties }) => properties.own);
  if (own.length === 1) return own[0];
  throw new InputError(
    own.length === 0
      ? {
          code: 'no-own-lot',
          where: fileName,
          problem: 'no lot is marked as your own',
          remedy: 'draw the lot line, or set own to true on the lot being planned',
        }
      : {
          code: 'many-own-lots',
          where: fileName,
          problem: `${own.length} lots are marked as your own (${own
            .slice(0, 5)
            .map(({ id }) => id)
            .join(', ')}), expected one`,
          remedy: 'set own to false on the neighbouring lots',
        },
  );
}

/** Asks whose lots they are where several are marked as one's own; nothing is asked of one. */
export function ownLotsQuestions(
  lots: readonly Pick<FeatureOf<'lot'>, 'id' | 'properties'>[],
): string[] {
  const own = lots.filter(({ properties }) => properties.own);
  if (own.length < 2) return [];
  const names = own.map(featureName).join(', ');
  return [
    `${own.length} lots are marked as your own (${names}), and the water is followed for the first. Is one of them a neighbour’s? Then set own to false there; one piece of land is drawn as one lot.`,
  ];
}
