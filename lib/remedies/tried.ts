import { applyChange, type Change } from '../plan/change';
import { featureName } from '../plan/feature-name';
import { toLocal, type LocalPlan } from '../plan/local-plan';
import type { PlanFeature } from '../plan/schema';
import type { Verdict } from '../verdict';
import type { Hollow, WetWall } from './hollows';
import { outcomeRules } from './outcome-rules';
import type { Part } from './part';
import type { FindingEffect, PartRow, Proposal, StormRow } from './remedies-result';
import type { NearWater, Trial, TrialOutcome } from './trials';

/** A wall is dry where less than this part of its water is left, and less than this much, m3. Our choices, no source. */
const dryPart = 0.02;
const dryM3 = 0.005;
/** A wall is eased where less than this part of its water is left. Our choice, no source. */
const easedPart = 0.8;

/** Parts that are done together. */
export interface Combination {
  readonly parts: readonly Part[];
  readonly change: Change;
  readonly plan: LocalPlan;
}

/** Puts parts together; `null` where two of them change one feature. */
export function combined(base: LocalPlan, parts: readonly Part[]): Combination | null {
  const puts: PlanFeature[] = [];
  const ids = new Set<string>();
  for (const part of parts) {
    for (const feature of part.puts) {
      if (ids.has(feature.id)) return null;
      ids.add(feature.id);
      puts.push(feature);
    }
  }
  const change: Change = {
    label: 'take remedy into the plan',
    puts,
    deletes: parts.flatMap(({ deletes }) => deletes),
  };
  return { parts, change, plan: toLocal(applyChange(base.plan, change).plan, base.frame) };
}

/** What a combination does to each wall with water, in their order. */
export type Effect = 'dries' | 'eases' | 'none';

/** Whether a wall's zone is dry. */
export function isDry(after: NearWater, before: NearWater): boolean {
  return after.wallM === 0 && after.volumeM3 <= Math.max(dryM3, dryPart * before.volumeM3);
}

export function effectsOf(
  before: readonly NearWater[],
  after: readonly NearWater[],
): readonly Effect[] {
  return before.map((was, i) => {
    if (isDry(after[i], was)) return 'dries';
    return after[i].volumeM3 <= easedPart * was.volumeM3 ? 'eases' : 'none';
  });
}

/** Up to what rain each wall stays dry, millimetres. */
export type DryTo = readonly (number | null)[];

/** A combination that has been tried, with the plan as it is tried in the same events. */
export interface Tried {
  readonly combination: Combination;
  readonly before: Trial;
  readonly after: Trial;
  readonly dryTo: { readonly before: DryTo; readonly after: DryTo };
  /** What it breaks or mends of the plan's rules, as far as they have been looked at. */
  readonly planRules: Proposal['rules'];
}

/** All walls of all waters, in the order of the zones. */
export function wallsOf(hollows: readonly Hollow[]): WetWall[] {
  return hollows.flatMap(({ walls }) => walls);
}

/**
 * The document of a combination. Its rank is 0.
 *
 * @param hollows - all waters at walls.
 * @param sought - those that remedies are sought for.
 * @param sure - those that are deeper than the heights may be off.
 */
export function proposalOf(
  tried: Tried,
  hollows: readonly Hollow[],
  sought: readonly Hollow[],
  sure: readonly Hollow[],
): Proposal {
  const { combination, before, after, dryTo } = tried;
  const walls = wallsOf(hollows);
  const sureWalls = new Set(wallsOf(sure).map(({ id }) => id));
  const main = { before: before.outcomes[0], after: after.outcomes[0] };
  const effects = effectsOf(main.before.zones, main.after.zones);
  const having = (effect: Effect): string[] =>
    walls.flatMap(({ id }, i) => (effects[i] === effect ? [id] : []));
  const cures = having('dries');
  const rules = [
    ...combination.parts.flatMap((part) => part.rules),
    ...outcomeRules(combination, before, after),
    ...tried.planRules,
  ].filter((rule, i, all) => all.findIndex(({ why }) => why === rule.why) === i);
  return {
    id: idOf(combination.parts, sought),
    rank: 0,
    mark: cures.length > 0 ? 'dries' : 'eases',
    lawful: worst(rules.map(({ result }) => result)),
    parts: combination.parts.map((part) => partRow(part, combination.change, before.plan)),
    cures,
    eases: having('eases'),
    findings: walls.map(({ id }, i): FindingEffect => ({
      id,
      doubtful: !sureWalls.has(id),
      ...nearRow(main.before.zones[i], main.after.zones[i]),
      dry_to_mm: { before: dryTo.before[i] ?? null, after: dryTo.after[i] ?? null },
    })),
    storms: after.outcomes.map((outcome, i) => stormRow(before, before.outcomes[i], outcome)),
    work: workOf(combination, before, after),
    rules,
    certainty: null,
    change: combination.change,
  };
}

/** Its parts by their keys; with the number of the water where several lie at walls. */
function idOf(parts: readonly Part[], hollows: readonly Hollow[]): string {
  return parts
    .map(({ key, hollow }) => {
      const at = hollows.findIndex((each) => each.key === hollow);
      return hollows.length > 1 && at !== -1 ? `${key}-${at + 1}` : key;
    })
    .join('+');
}

function partRow(part: Part, { deletes = [] }: Change, { byId }: LocalPlan): PartRow {
  return {
    remedy: part.verb,
    key: part.key,
    low_spot: part.hollow,
    ends_in: part.endsIn,
    about: part.about,
    length_m: part.lengthM,
    deepest_m: part.deepestM,
    figures: part.figures,
    adds: part.puts.filter(({ id }) => !byId.has(id)),
    replaces: [
      ...part.puts.filter(({ id }) => byId.has(id)).map(({ id }) => id),
      ...part.deletes.filter((id) => deletes.includes(id)),
    ],
  };
}

function nearRow(
  before: NearWater,
  after: NearWater,
): Omit<StormRow['buildings'][number], 'building' | 'name'> {
  return {
    volume_m3: { before: before.volumeM3, after: after.volumeM3 },
    depth_m: { before: before.depthM, after: after.depthM },
    wall_m: { before: before.wallM, after: after.wallM },
  };
}

function stormRow({ plan }: Trial, before: TrialOutcome, after: TrialOutcome): StormRow {
  const { kind, rainMm } = after.event;
  const to = new Map<string | null, { name: string; before: number; after: number }>();
  for (const [outcome, side] of [
    [before, 'before'],
    [after, 'after'],
  ] as const) {
    for (const share of outcome.ledger?.passed_on_to ?? []) {
      const row = to.get(share.lot) ?? { name: share.name, before: 0, after: 0 };
      row[side] = share.volume_m3;
      to.set(share.lot, row);
    }
  }
  return {
    kind,
    rain_mm: rainMm,
    buildings: plan.of.building.map(({ id, feature }, i) => ({
      building: id,
      name: featureName(feature),
      ...nearRow(before.near[i], after.near[i]),
    })),
    sent: [...to].map(([lot, { name, ...volume_m3 }]) => ({ to: lot, name, volume_m3 })),
  };
}

/** Earth that the change moves: what edits move with it less what they move without. */
function workOf({ parts }: Combination, before: Trial, after: Trial): Proposal['work'] {
  const sum = ({ edits }: Trial, of: 'cutM3' | 'fillM3'): number =>
    edits.reduce((total, edit) => total + edit[of], 0);
  return {
    cut_m3:
      Math.max(0, sum(after, 'cutM3') - sum(before, 'cutM3')) +
      parts.reduce((total, { trenchM3 }) => total + trenchM3, 0),
    fill_m3: Math.max(0, sum(after, 'fillM3') - sum(before, 'fillM3')),
    length_m: parts.reduce((total, { lengthM }) => total + lengthM, 0),
    deepest_m: parts.reduce((most, { deepestM }) => Math.max(most, deepestM), 0),
  };
}

export function worst(results: readonly Verdict[]): Verdict {
  if (results.includes('fail')) return 'fail';
  return results.includes('check') ? 'check' : 'pass';
}
