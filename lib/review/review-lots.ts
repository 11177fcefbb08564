import { shapeGround } from '../drainage/storm/shaped-ground';
import { partOf, type Steps } from '../drainage/steps';
import { areaM2 } from '../frame/shapes';
import { inStorm, leavesM3, type BuiltBasins } from './in-storm';
import { lotCertaintySteps, type LotErrors } from './lot-certainty';
import { lotReaches } from './lot-reach';
import type { ReviewQuestion } from './review-question';
import type { LotWaterRow, ReviewedLot, ReviewedWhole, ReviewResult } from './review-result';
import { worseFrom, worseOff } from './worse-off';

/** Every lot of a plan in one storm, before and after, and who is worse off. Cost: twice a storm, and the design of each basin. */
export function* reviewSteps(
  question: ReviewQuestion,
  sure: LotErrors | null = null,
): Steps<ReviewResult> {
  const { shape, plan, before, rainMm } = question;
  const built: BuiltBasins = new Map();
  const share = sure === null ? 1 : 2 / (2 + 2 * sure.surfaces);
  yield { fraction: 0, stage: 'Letting it rain on the lots as they are' };
  const shapeBefore = shapeGround(shape.elevation, before);
  const was = inStorm(shapeBefore, before, rainMm, built);
  yield { fraction: 0.45 * share, stage: 'Letting it rain with the gardens' };
  const is = inStorm(shape, plan, rainMm, built);
  yield { fraction: 0.9 * share, stage: 'Looking how far the elevation reaches' };
  const reaches = lotReaches(
    shape,
    plan.of.lot.map((lot) => lot.shape.rings),
  );
  const certain =
    sure === null ? null : yield* partOf(lotCertaintySteps(question, sure, built), share, 1);
  const units = plan.plan.lotfall.units ?? 'metric';
  const lots = shape.ground.lots.map(({ id, name }, lot): ReviewedLot => {
    const isOutside = reaches[lot] === 'outside';
    return {
      lot: id,
      name,
      reach: reaches[lot],
      area_m2: areaM2(plan.of.lot[lot].shape.rings),
      before: isOutside ? null : was.rows[lot],
      after: isOutside ? null : is.rows[lot],
      worse: isOutside ? [] : worseOff(was.rows[lot], is.rows[lot], units),
      ...(certain === null || isOutside ? {} : { certainty: certain[lot] }),
    };
  });
  return {
    rain_mm: rainMm,
    lots,
    lines_before: was.lines,
    lines_after: is.lines,
    whole: wholeOf(lots),
    ...(question.origins === true ? { origins: is.origins() } : {}),
    worse_from: worseFrom,
    ...(sure === null
      ? {}
      : {
          tried: {
            surfaces: sure.surfaces,
            rmse_m: Math.hypot(sure.errors.shortM, sure.errors.longM),
          },
        }),
    notes: [...new Set([...is.notes, ...reachNotes(lots), ...certaintyNotes(sure)])],
  };
}

function wholeOf(lots: readonly ReviewedLot[]): ReviewedWhole {
  const count = (reach: ReviewedLot['reach']): number =>
    lots.filter((lot) => lot.reach === reach).length;
  const sum = (state: 'before' | 'after', figure: (row: LotWaterRow) => number): number =>
    lots.reduce((total, lot) => {
      const row = lot[state];
      return row === null ? total : total + figure(row);
    }, 0);
  const standing = (row: LotWaterRow): number => row.standing_m3;
  const basin = (row: LotWaterRow): number => row.basin_m3;
  const leaves = (row: LotWaterRow): number => leavesM3([row]);
  const wet = (row: LotWaterRow): number => row.wet_buildings.length;
  return {
    lots: lots.length,
    whole: count('whole'),
    cut: count('cut'),
    outside: count('outside'),
    standing_before_m3: sum('before', standing),
    standing_after_m3: sum('after', standing),
    basin_before_m3: sum('before', basin),
    basin_after_m3: sum('after', basin),
    leaves_before_m3: sum('before', leaves),
    leaves_after_m3: sum('after', leaves),
    wet_buildings_before: sum('before', wet),
    wet_buildings_after: sum('after', wet),
  };
}

function reachNotes(lots: readonly ReviewedLot[]): string[] {
  const named = (reach: ReviewedLot['reach']): string =>
    lots
      .filter((lot) => lot.reach === reach)
      .map(({ name }) => name)
      .join(', ');
  const cut = named('cut');
  const outside = named('outside');
  return [
    ...(cut === ''
      ? []
      : [
          `More ground than the elevation shows may drain to ${cut}: what comes to them is 'at least'.`,
        ]),
    ...(outside === '' ? [] : [`Nothing is known of ${outside}: no elevation there.`]),
  ];
}

function certaintyNotes(sure: LotErrors | null): string[] {
  return sure === null
    ? [
        'Who is worse off is told by the heights as they are; they have errors, and differences near the limits are to be looked at again (--certainty tries them).',
      ]
    : [
        `How sure that is was tried on ${sure.surfaces} equally likely surfaces, a coarse number: shares go in steps of ${(100 / sure.surfaces).toFixed(0)} %.`,
      ];
}
