import type { LngLat } from '../../../../lib/frame/frame';
import type { Kind, Plan } from '../../../../lib/plan/schema';
import { writePlan } from '../../../../lib/plan/write-plan';
import type { DrawnOnto, PlacedOutline, Preset } from './tool';
import type { PageSource } from '../../worker/analysis-api';
import { planTitle } from '../plan/plan-title';

/** A feature that has been begun: its corners so far, or the outline that is being placed. */
export interface HalfDrawn {
  readonly kind: Kind;
  readonly corners: readonly LngLat[];
  readonly outline: PlacedOutline | null;
  /** Properties that make the kind what the user calls it. */
  readonly preset?: Preset | undefined;
  /** Where it is drawn onto a feature. */
  readonly onto?: DrawnOnto | undefined;
}

/** What is on the sheet, as far as it is the user's own. */
export interface Work {
  readonly plan: Plan;
  /** The user's own elevation, where the plan names one that is at hand. */
  readonly elevation: PageSource | null;
  readonly drawing: HalfDrawn | null;
  /** What was begun and laid aside. */
  readonly aside?: readonly HalfDrawn[];
}

/** What the browser keeps between visits: a plan as it was last changed, with its elevation where that is small. */
export interface KeptWork {
  readonly id: string;
  /** The plan document. */
  readonly plan: string;
  /** What the plan is called. */
  readonly title: string | null;
  /** ISO time of the last change. */
  readonly at: string;
  /** Null where there was none of the user's own, or the file could not be kept; it must then be opened again. */
  readonly elevation: PageSource | null;
  readonly drawing: HalfDrawn | null;
  /** What was begun and laid aside. */
  readonly aside?: readonly HalfDrawn[];
}

/** So many earlier works are offered, the latest. A choice. */
export const mostOffered = 3;

/** What is on the sheet as it is kept. */
export function workOf({ plan, elevation, drawing, aside = [] }: Work, id: string): KeptWork {
  return {
    id,
    plan: writePlan(plan),
    title: planTitle(plan),
    at: new Date().toISOString(),
    elevation,
    drawing,
    aside,
  };
}

/** Works without those that say the same as a later one, the latest first and no more than are offered. */
export function latestWorks(works: readonly KeptWork[]): KeptWork[] {
  const said = new Set<string>();
  return [...works]
    .sort((a, b) => b.at.localeCompare(a.at))
    .filter(({ plan, drawing, aside = [] }) => {
      const says = plan + JSON.stringify([drawing, aside]);
      return !said.has(says) && said.add(says);
    })
    .slice(0, mostOffered);
}
