import { warning, info, type Note } from '../elevation/note';
import type { Frame } from '../frame/frame';
import { featureName } from './feature-name';
import { olderGround } from './older-ground';
import { readings, relevelling, relevelWords } from './relevel';
import type { Plan, PlanFeature } from './schema';

/** More names than this are not listed. Our choice. */
const mostNamed = 6;

/** That something is newer than the heights, and what to level again there; null where that is done. */
function newerWords(feature: PlanFeature, plan: Plan, frame: Frame): string | null {
  const again = relevelling(feature, plan, frame);
  if (again.set >= readings(again)) return null;
  const { measured } = plan.lotfall.elevation ?? {};
  return `${featureName(feature)}, of ${feature.properties.built ?? 'later'}, is newer than the heights${measured === undefined ? '' : `, of ${measured}`}: the ground there is old. Level again: ${relevelWords(again, feature.geometry.type === 'Polygon')}.`;
}

/**
 * What is to be said of the age of an elevation: when it was measured, where nobody says; what was built since; and of
 * what it is not known. Nothing of ground that is made from levels.
 *
 * @param writtenOn - day on which the file was written, where it says so.
 */
export function ageNotes(plan: Plan, frame: Frame, writtenOn: string | null): Note[] {
  const { elevation } = plan.lotfall;
  if (elevation?.of_levels === true) return [];
  const measured = elevation?.measured;
  if (measured === undefined) {
    const by = writtenOn === null ? '' : ` The file was written on ${writtenOn}: no later.`;
    return [
      info(
        'heights-undated',
        `Nothing says when the heights were measured; the page that the file came from does.${by} What was built since stands on ground that is gone: give elevation.measured, and when things were built.`,
      ),
    ];
  }
  const { newer, unsaid } = olderGround(plan);
  const old = newer.flatMap((feature) => {
    const says = newerWords(feature, plan, frame);
    return says === null ? [] : [warning('heights-older', says)];
  });
  if (unsaid.length === 0) return old;
  const names = unsaid.slice(0, mostNamed).map(featureName).join(', ');
  const more = unsaid.length - mostNamed;
  return [
    ...old,
    info(
      'built-unsaid',
      `Built since ${measured}? The plan does not say of ${names}${more > 0 ? ` and ${more} more` : ''} (built): the heights do not know of what came later.`,
    ),
  ];
}
