import { featureName } from '../plan/feature-name';
import { formatRain, formatVolume } from '../units/format';
import { natural, otherCourse, upperWater } from './figures';
import type { Part, RemedyRule } from './part';
import type { Trial, TrialOutcome } from './trials';

/** Less than this is not told from nothing: 20 l, or 0.2 % of what comes in. Our choice, no source. */
const leastM3 = 0.02;
const leastPart = 0.002;

/** What of a change cannot be told from none in an event, m3. */
export function notToldM3({ ledger }: TrialOutcome): number {
  const comesIn = ledger === null ? 0 : ledger.rain_m3 + ledger.run_on_m3 + ledger.sump_m3;
  return Math.max(leastM3, leastPart * comesIn);
}

/** What the water that a combination moves says of it, in all events tried: at other walls, on other lots, in the street. */
export function outcomeRules(
  { parts }: { readonly parts: readonly Part[] },
  before: Trial,
  after: Trial,
): RemedyRule[] {
  return [
    ...sentRules(before, after),
    ...courseRules(parts, before, after),
    ...wallRules(before, after),
    ...pondRules(before, after),
  ];
}

/** A figure that grows, in words, and the event in which it grows most. */
interface Grown {
  readonly more: string;
  readonly moreM3: number;
  readonly event: string;
}

/** In which event a figure grows most beyond what is told from nothing, and by how much. */
function mostMore(
  before: Trial,
  after: Trial,
  figure: (outcome: TrialOutcome) => number,
): Grown | null {
  let most: Grown | null = null;
  after.outcomes.forEach((outcome, i) => {
    const moreM3 = figure(outcome) - figure(before.outcomes[i]);
    if (moreM3 <= notToldM3(before.outcomes[i]) || moreM3 <= (most?.moreM3 ?? 0)) return;
    const { kind, rainMm, settings } = outcome.event;
    const units = settings.units ?? 'metric';
    most = {
      more: formatVolume(moreM3, units),
      moreM3,
      event: kind === 'thaw' ? 'the thaw' : `${formatRain(rainMm, units)} of rain`,
    };
  });
  return most;
}

function sentTo(lot: string | null): (outcome: TrialOutcome) => number {
  return ({ ledger }) => ledger?.passed_on_to.find((share) => share.lot === lot)?.volume_m3 ?? 0;
}

function sentRules(before: Trial, after: Trial): RemedyRule[] {
  return before.plan.of.lot.flatMap(({ id, feature }): RemedyRule[] => {
    if (feature.properties.own) return [];
    const name = featureName(feature);
    const more = mostMore(before, after, sentTo(id));
    return [
      {
        rule: 'sends-more',
        result: more === null ? 'pass' : 'fail',
        why:
          more === null
            ? `It sends ${name} no more than now.`
            : `It sends ${name} ${more.more} more in ${more.event}.`,
        source: natural.source,
      },
    ];
  });
}

function courseRules(parts: readonly Part[], before: Trial, after: Trial): RemedyRule[] {
  const more = mostMore(before, after, sentTo(null));
  const isLed = parts.some(({ endsIn }) => endsIn?.to === 'street' || endsIn?.to === 'back-swale');
  if (more === null && !isLed) return [];
  const much = more === null ? '' : `, ${more.more} more in ${more.event}`;
  const where = parts.some(({ endsIn }) => endsIn?.to === 'back-swale')
    ? 'the swale or watercourse there'
    : 'the street';
  return [
    {
      rule: 'other-course',
      result: 'check',
      why: `It leads water to another course${much}: ask the owner of ${where} for leave, in writing, before it is dug.`,
      source: otherCourse.source,
    },
  ];
}

function wallRules(before: Trial, after: Trial): RemedyRule[] {
  return before.plan.of.building.flatMap(({ feature }, i): RemedyRule[] => {
    const more = mostMore(before, after, ({ near }) => near[i].volumeM3);
    if (more === null) return [];
    return [
      {
        rule: 'other-wall',
        result: 'fail',
        why: `In ${more.event} ${more.more} more stand near ${featureName(feature)}.`,
        source: null,
      },
    ];
  });
}

function pondRules(before: Trial, after: Trial): RemedyRule[] {
  return before.plan.of.lot.flatMap(({ feature }, i): RemedyRule[] => {
    if (feature.properties.own) return [];
    const more = mostMore(before, after, ({ standingM3 }) => standingM3[i]);
    if (more === null) return [];
    return [
      {
        rule: 'upper-water',
        result: 'fail',
        why: `In ${more.event} ${more.more} more stand on ${featureName(feature)}.`,
        source: upperWater.source,
      },
    ];
  });
}
