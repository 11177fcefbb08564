import type { LocalPlan } from '../../plan/local-plan';
import type { Settings } from '../../plan/schema';
import type { Source } from '../../source';
import { averagedRunOff } from '../../storm/composite-curve-number';
import { hasConditions } from '../../storm/curve-numbers';
import { thawOf } from '../../storm/event-depth';
import { nehAveraging, tr55Unconnected } from '../../storm/sources';
import { isSealed, stormCurveNumber } from '../../storm/storm-curve-number';
import type { SurfaceClass } from '../../storm/surface-class';
import { sealedLot } from '../../storm/unconnected-paving';
import { openAreasM2, ownerOfRoof } from '../storm/lot-areas';
import type { ShapedGround } from '../storm/shaped-ground';
import type { StormOnGround } from '../storm/storm-on-ground';

/** What runs off one kind of surface of a lot. */
export interface SurfaceRow {
  readonly cover: SurfaceClass['cover'];
  /** `null` where it counts for nothing, as for roofs and paving. */
  readonly condition: SurfaceClass['condition'] | null;
  readonly soil_group: SurfaceClass['group'] | null;
  /** Whether it is paving whose water spreads over lawn. */
  readonly unconnected: boolean;
  readonly area_m2: number;
  /** As it was used, for the state of the ground before the storm; `null` in a thaw. */
  readonly curve_number: number | null;
  /** After any credit for spreading over lawn. */
  readonly run_off_mm: number;
  readonly run_off_m3: number;
}

/** What runs off a lot in an event, surface by surface, and what averaging would have made of it. */
export interface LotRunOff {
  readonly lot: string;
  readonly kind: 'storm' | 'thaw';
  readonly depth_mm: number;
  /** The most water first. */
  readonly surfaces: readonly SurfaceRow[];
  readonly area_m2: number;
  readonly run_off_mm: number;
  /** What of the rain on the lot and its roofs is not in `soaked_m3` of its ledger. */
  readonly run_off_m3: number;
  /** What unconnected paving is credited with; `null` where the lot has none. */
  readonly unconnected: {
    readonly area_m2: number;
    /** Roofs and paving as a share of the lot. */
    readonly sealed_fraction: number;
    /** Of these the part that is unconnected. */
    readonly unconnected_fraction: number;
    readonly credited_m3: number;
    readonly source: Source;
  } | null;
  /** One averaged curve number in place of one for each surface; `null` in a thaw, which has none. */
  readonly averaged: {
    readonly curve_number: number;
    readonly run_off_mm: number;
    readonly run_off_m3: number;
    /** What it misses of the sum by surface, before any credit; below 0 where it gives more. */
    readonly lost_m3: number;
    readonly lost_fraction: number;
    readonly source: Source;
  } | null;
}

/**
 * What runs off each class of surface of some ground: all that it takes to work it out again by hand.
 *
 * @param areasM2 - by class; those without any are left out.
 */
export function surfaceRows(
  { classRunOffMm, surfaces: { classes } }: StormOnGround,
  settings: Settings,
  areasM2: Float64Array,
): SurfaceRow[] {
  const isThaw = thawOf(settings) !== null;
  const antecedent = settings.storm?.antecedent ?? 'average';
  return classes.flatMap((surface, at): SurfaceRow[] => {
    if (areasM2[at] === 0) return [];
    const { cover, condition, group } = surface;
    const hasSoil = !isSealed(cover);
    return [
      {
        cover,
        condition: hasSoil && hasConditions(cover) ? condition : null,
        soil_group: hasSoil ? group : null,
        unconnected: surface.spreadsOn !== undefined,
        area_m2: areasM2[at],
        curve_number: isThaw ? null : stormCurveNumber(surface, antecedent),
        run_off_mm: classRunOffMm[at],
        run_off_m3: (areasM2[at] * classRunOffMm[at]) / 1000,
      },
    ];
  });
}

/**
 * What runs off a lot, by class of surface, roofs by their plan area; it is the rain of the lot's ledger less what
 * soaks in.
 *
 * @param lot - index of the lot in the ground's list.
 * Cost: the lot's cells.
 */
export function lotRunOff(
  { ground }: ShapedGround,
  storm: StormOnGround,
  plan: LocalPlan,
  lot: number,
): LotRunOff {
  const { rainMm } = storm;
  const { classes, classOf, unconnected } = storm.surfaces;
  const { lotfall } = plan.plan;
  const isThaw = thawOf(lotfall) !== null;
  const antecedent = lotfall.storm?.antecedent ?? 'average';
  const areasM2 = openAreasM2(ground, classOf, classes.length, lot);
  for (const { outlet } of storm.roofFlows) {
    if (ownerOfRoof(ground, plan, outlet.roof) === lot) {
      areasM2[classes.length - 1] += outlet.areaM2;
    }
  }

  const rows = surfaceRows(storm, lotfall, areasM2);
  const areaM2 = rows.reduce((sum, { area_m2 }) => sum + area_m2, 0);
  const runOffM3 = rows.reduce((sum, { run_off_m3 }) => sum + run_off_m3, 0);

  const average = isThaw ? null : averagedRunOff(rows.map(partOf), rainMm);
  const own = unconnected.find((each) => each.lot === lot);
  const spreadsOn = own === undefined ? undefined : classes[own.at].spreadsOn;
  const sealed = spreadsOn === undefined ? null : sealedLot(spreadsOn, antecedent);
  return {
    lot: ground.lots[lot].id,
    kind: isThaw ? 'thaw' : 'storm',
    depth_mm: rainMm,
    surfaces: rows.sort((a, b) => b.run_off_m3 - a.run_off_m3 || b.area_m2 - a.area_m2),
    area_m2: areaM2,
    run_off_mm: areaM2 > 0 ? (runOffM3 * 1000) / areaM2 : 0,
    run_off_m3: runOffM3,
    unconnected:
      spreadsOn === undefined
        ? null
        : {
            area_m2: spreadsOn.unconnectedM2,
            sealed_fraction: sealed?.sealedShare ?? 1,
            unconnected_fraction: spreadsOn.unconnectedM2 / spreadsOn.sealedM2,
            credited_m3: average === null ? 0 : (average.apartMm * areaM2) / 1000 - runOffM3,
            source: tr55Unconnected,
          },
    averaged:
      average === null
        ? null
        : {
            curve_number: average.averageCurveNumber,
            run_off_mm: average.averagedMm,
            run_off_m3: (average.averagedMm * areaM2) / 1000,
            lost_m3: ((average.apartMm - average.averagedMm) * areaM2) / 1000,
            lost_fraction: average.apartMm > 0 ? 1 - average.averagedMm / average.apartMm : 0,
            source: nehAveraging,
          },
  };
}

function partOf({ area_m2, curve_number }: SurfaceRow): { areaM2: number; curveNumber: number } {
  return { areaM2: area_m2, curveNumber: curve_number ?? 0 };
}
