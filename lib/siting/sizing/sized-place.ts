import type { XY } from '../../frame/frame';
import type { DepthClass } from '../../basin/form/size-factors';
import type { SetbackFindings } from '../../setback/judge/setback-result';
import type { Outline } from '../../setback/measure/outline';
import type { LedRoof } from '../leading/led-roof';
import type { BasinOutline } from './basin-outline';
import type { Scored } from './score';

/** An outline at a place that keeps every distance. */
export interface Fit {
  readonly outline: BasinOutline;
  readonly areaM2: number;
  /** Least margin along the rim, metres, at most `marginCapM`. */
  readonly marginM: number;
}

/** A sized and checked basin, before it is scored against others. */
export interface Sized {
  readonly fits: true;
  /** Id of the own lot that it lies on. */
  readonly lot: string;
  readonly at: XY;
  readonly rim: readonly XY[];
  /** The rim laid out for measuring. */
  readonly around: Outline;
  /** The cells of the elevation inside it. */
  readonly cells: Int32Array;
  readonly outline: BasinOutline;
  readonly areaM2: number;
  readonly wantedM2: number;
  readonly depth: DepthClass;
  readonly byItselfM2: number;
  /** The roofs' part of that. */
  readonly roofsByItselfM2: number;
  readonly led: readonly LedRoof[];
  readonly catchesM2: number;
  /** The storm's run-off from all of it. */
  readonly inflowM3: number;
  readonly scored: Scored;
  readonly setbacks: SetbackFindings;
}

/** The same before it is checked. */
export type MeasuredPlace = Omit<Sized, 'setbacks'>;

/** A place that bears no such basin. */
export interface Refused {
  readonly fits: false;
  /** Ids of the binding rules that it breaks; none where there is no room for it, or the ground is too steep. */
  readonly broken: readonly string[];
}
