import type { XY } from '../../frame/frame';
import { meshCentre } from '../refused/mesh';
import type { Pace } from './pace';
import { patternSearch } from './pattern-search';
import type { SearchedLot } from '../sizing/searched-lot';
import { basinOutline, type OutlineForm, type BasinOutline } from '../sizing/basin-outline';
import { isMore, largestFirst } from '../rounding';

/** Where a basin of the least area fits, if only just. */
export interface Squeezed {
  readonly at: XY;
  readonly outline: BasinOutline;
}

/** Places from which room is looked for: cells with most margin around them, this far apart, metres. */
const startsAtMost = 40;
const startsApartM = 1;
/** Forms tried, with the aspects from which each is stretched. */
const forms: readonly (readonly [OutlineForm, number])[] = [
  ['round', 1],
  ['oval', 2],
  ['oval', 3],
  ['kidney', 2],
  ['teardrop', 1.6],
];
const turns = 4;
const steps = [0.25, 0.25, Math.PI / 12, 0.2];
const aspectAtLeast = 1;
const aspectAtMost = 3.5;

/**
 * Looks for room where no cell's middle has any: from the cells with most margin, every form is shifted, turned and
 * stretched for the most margin along its rim. For a lot on which the usual places and directions find nothing.
 *
 * @returns the places found, the most margin first.
 * Cost: some thousand looks at a rim for each start.
 */
export async function squeezeIn(searched: SearchedLot, pace: Pace): Promise<Squeezed[]> {
  const found: (Squeezed & { readonly marginM: number })[] = [];
  for (const start of starts(searched)) {
    for (const [form, aspect] of forms) {
      for (let turn = 0; turn < (form === 'round' ? 1 : turns); turn++) {
        const room = await mostRoom(searched, start, form, aspect, (turn * Math.PI) / turns);
        if (room !== null) found.push(room);
        await pace.at(0.35, 'Looking for room');
      }
    }
  }
  return found.sort((a, b) => largestFirst(a.marginM, b.marginM));
}

function starts({ forbidden }: SearchedLot): XY[] {
  const { mesh, marginM, inLot } = forbidden;
  const order: number[] = [];
  for (let cell = 0; cell < marginM.length; cell++) if (inLot[cell] === 1) order.push(cell);
  order.sort((a, b) => largestFirst(marginM[a], marginM[b]) || a - b);
  const kept: XY[] = [];
  for (const cell of order) {
    if (kept.length >= startsAtMost || marginM[cell] < -mesh.cellM) break;
    const at = meshCentre(mesh, cell);
    if (kept.every(([x, y]) => !isMore(startsApartM, Math.hypot(x - at[0], y - at[1]))))
      kept.push(at);
  }
  return kept;
}

async function mostRoom(
  searched: SearchedLot,
  start: XY,
  form: OutlineForm,
  aspect: number,
  turnRad: number,
): Promise<(Squeezed & { readonly marginM: number }) | null> {
  const objective = ([x, y, turn, stretched]: readonly number[]) => {
    if (stretched < aspectAtLeast || stretched > aspectAtMost) return null;
    const shape: OutlineForm = form === 'round' && stretched > 1 ? 'oval' : form;
    const outline = basinOutline(shape, stretched, turn);
    const at: XY = [x, y];
    const value = searched.margins.least(outline, at, searched.minAreaM2);
    return { value, what: { at, outline } };
  };
  const from = [...start, turnRad, aspect];
  const begun = objective(from);
  if (begun === null) return null;
  const { value, what } = await patternSearch(objective, from, begun, steps, {
    halvings: 5,
    triesAtMost: 200,
  });
  return value < 0 ? null : { ...what, marginM: value };
}
