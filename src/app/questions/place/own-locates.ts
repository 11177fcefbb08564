import { makeFrame, type FrameSpec, type LngLat } from '../../../../lib/frame/frame';
import { toLocal } from '../../../../lib/plan/local-plan';
import type { Plan, Settings } from '../../../../lib/plan/schema';
import { checkedBasins } from '../../../../lib/setback/rules/checked-basins';
import { digPieces } from '../../../../lib/setback/locate/dig-pieces';
import { clearLocates, clearState, type LocateParty } from '../../../../lib/setback/locate/locates';
import type { Service } from '../../../../lib/setback/locate/marking-colours';

/** An answer without a line as the plan keeps it. */
export type KeptLocate = NonNullable<Settings['locates']>[number];

/** An answer as it is being typed in. */
export interface TypedLocate {
  readonly by: LocateParty | '';
  readonly services: readonly Service[];
  readonly on: string;
  readonly until: string;
  readonly reference: string;
  readonly ground: 'dig' | 'lot';
}

/**
 * The answer as the plan is to keep it, or the sentence that says what it lacks.
 *
 * @param dig - outline of the ground to be dug today, which the answer is then about; `null` without a basin.
 */
export function keptLocate(
  { by, services, on, until, reference, ground }: TypedLocate,
  dig: readonly (readonly (readonly LngLat[])[])[] | null,
): KeptLocate | string {
  if (by === '') return 'Say who answered: the public notice service or a private locator.';
  if (services.length === 0) return 'Say for which services no line was found.';
  if (on === '' || until === '')
    return 'Give the day of the answer and the last day it is good for.';
  if (until < on) return 'The last day it is good for lies before the day of the answer.';
  if (ground === 'dig' && dig === null) {
    return 'There is no basin, so no ground to be dug that the answer could be about: draw one, or choose the whole lot.';
  }
  return {
    found: 'no-lines',
    services: [...services],
    by,
    on,
    until,
    ...(reference.trim() === '' ? {} : { reference: reference.trim() }),
    area:
      ground === 'lot' || dig === null
        ? 'lot'
        : {
            type: 'MultiPolygon',
            coordinates: dig.map((rings) => rings.map((ring) => ring.map(rounded))),
          },
  };
}

/** A tenth of a millimetre, as features are written. */
function rounded([lng, lat]: LngLat): LngLat {
  return [Number(lng.toFixed(9)), Number(lat.toFixed(9))];
}

/** What an answer on record is worth today. */
export interface RecordedLocate {
  readonly kept: KeptLocate;
  readonly counts: boolean;
  readonly words: string;
}

const stateWords = {
  clear: 'counts for the ground to be dug today',
  elsewhere: 'is about other ground than is to be dug today',
  'no-ground': 'does not say about which ground',
  expired: 'has run out',
  'not-yet': 'is dated later than today',
  'dates-in-doubt': 'has dates more than a year off: check them',
} as const;

/** The answers of a plan with what each is worth; without a frame or basin there is no ground that they could cover. */
export function recordedLocates(
  plan: Plan,
  frame: FrameSpec | null,
  today: string,
): RecordedLocate[] {
  const kept = plan.lotfall.locates ?? [];
  if (frame === null || kept.length === 0) return [];
  const local = toLocal(plan, makeFrame(frame));
  const pieces = checkedBasins(local).flatMap((basin) => digPieces(local, basin));
  return clearLocates(local).map((record, i) => {
    const state = clearState(record, today, () => pieces);
    if (state === 'clear' && pieces.length === 0) {
      return { kept: kept[i], counts: false, words: 'is in time; nothing is to be dug yet' };
    }
    return { kept: kept[i], counts: state === 'clear', words: stateWords[state] };
  });
}
