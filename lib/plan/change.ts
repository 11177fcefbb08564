import { expectOf } from '../errors';
import type { Plan, PlanFeature, Settings } from './schema';

/** One change to a plan, as plain data: what to put, what to take out, what settings to have. */
export interface Change {
  /** What it does, in the user's words, for the history: 'move downspout'. */
  readonly label: string;
  /** Features to replace (by id, in their place) or to add. */
  readonly puts?: readonly PlanFeature[];
  /**
   * For each of `puts` that is new, its place in the document once it is in; a put beyond the list's length, or
   * without a place, goes to the end. Needed to undo a deletion.
   */
  readonly places?: readonly number[];
  /** Ids to take out. One that is not there, or that is also put, has no effect. */
  readonly deletes?: readonly string[];
  /** The settings to have afterwards. */
  readonly settings?: Settings;
}

/**
 * The plan after a change, and the change that undoes it. Neither argument is modified; features and settings that
 * did not change are shared, and a change without effect gives back the same plan.
 * @throws {InputError} `change-twice` when it puts two features with one id.
 * Cost: linear in features, whatever their geometry.
 */
export function applyChange(plan: Plan, change: Change): { plan: Plan; inverse: Change } {
  const { label, puts = [], places = [], deletes = [], settings = plan.lotfall } = change;
  const pending = new Map(puts.map((feature) => [feature.id, feature]));
  expectOf(pending.size === puts.length, {
    code: 'change-twice',
    where: `change '${label}'`,
    problem: 'it puts a feature with the same id twice',
    remedy: 'put each feature once',
  });
  const gone = new Set(deletes.filter((id) => !pending.has(id)));

  const kept: PlanFeature[] = [];
  const undoPuts: PlanFeature[] = [];
  const undoPlaces: number[] = [];
  plan.features.forEach((feature, index) => {
    const put = pending.get(feature.id);
    if (put !== undefined) pending.delete(feature.id);
    if (gone.has(feature.id) || (put !== undefined && put !== feature)) {
      undoPuts.push(feature);
      undoPlaces.push(index);
    }
    if (!gone.has(feature.id)) kept.push(put ?? feature);
  });
  const undoDeletes = [...pending.keys()];
  // What is left is new. In ascending places, so that each lands where it is meant to be at the end.
  puts
    .map((feature, i) => ({ feature, place: places[i] ?? Number.POSITIVE_INFINITY }))
    .filter(({ feature }) => pending.has(feature.id))
    .sort((a, b) => a.place - b.place || 0)
    .forEach(({ feature, place }) => kept.splice(place, 0, feature));

  const sameFeatures = undoPuts.length === 0 && undoDeletes.length === 0;
  const same = sameFeatures && settings === plan.lotfall;
  return {
    plan: same
      ? plan
      : { ...plan, lotfall: settings, features: sameFeatures ? plan.features : kept },
    inverse: {
      label,
      puts: undoPuts,
      places: undoPlaces,
      deletes: undoDeletes,
      settings: plan.lotfall,
    },
  };
}
