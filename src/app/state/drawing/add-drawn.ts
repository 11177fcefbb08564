import { makeFrame, type LngLat } from '../../../../lib/frame/frame';
import { cellAt, elevationAt } from '../../../../lib/elevation/grid';
import type { Kind } from '../../../../lib/plan/schema';
import type { Analysis } from '../answers/analysis.svelte';
import { kindName } from '../plan/drawn-kinds';
import { newFeature } from '../plan/new-feature';
import type { PlanGeometry } from '../plan/plan-geometry';
import type { PlanStore } from '../plan/plan-store.svelte';
import type { Session } from '../session/session.svelte';

/** Whom a new feature concerns. */
export interface DrawnFor {
  readonly session: Session;
  readonly store: PlanStore;
  readonly analysis: Pick<Analysis, 'ground'>;
  /** A lot line has been drawn: the ground may have to be read elsewhere. */
  readonly onLotDrawn: () => void;
}

/**
 * Puts what was drawn into the plan as one change, and selects it. Returns a sentence where it cannot be taken; then
 * nothing has changed.
 *
 * @param given - properties that were asked for while it was drawn.
 */
export function addDrawn(
  { session, store, analysis, onLotDrawn }: DrawnFor,
  geometry: PlanGeometry,
  kind: Kind,
  given: Readonly<Record<string, unknown>> = {},
): string | null {
  /** Height of the elevation's cell at a place, metres; `NaN` where there is none. */
  const elevationOf = (place: LngLat): number => {
    const grid = analysis.ground?.grid;
    if (grid === undefined) return Number.NaN;
    const cell = cellAt(grid, ...makeFrame(grid.frame).toLocal(place));
    return cell === -1 ? Number.NaN : elevationAt(grid, cell);
  };
  const feature = newFeature(store.plan, kind, geometry, elevationOf, given);
  if (typeof feature === 'string') return feature;
  session.drawn();
  store.commit({ label: `draw ${kindName(kind)}`, puts: [feature] });
  session.select(feature.id);
  session.showDrawn(kind);
  if (kind === 'lot') onLotDrawn();
  return null;
}
