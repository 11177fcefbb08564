import { depthAt, volumeAt, type StageStorage } from '../form/stage-storage';

/** The level is found to this, metres: a millionth of a millimetre. */
const levelM = 1e-9;
const mostTries = 100;

/**
 * Depth at which what stands and what leaves make up a volume, metres: the root of V(h) + out(h) = whole.
 *
 * This is the equation of level-pool routing. With `outM3` the outflow of a whole step it is the implicit (backward) rule,
 * which never overshoots; with that of half a step, and the other half at the old level taken off `wholeM3`, the
 * storage-indication method of the handbooks.
 *
 * @param wholeM3 - what was there and what came, 0 or more.
 * @param outM3 - leaves at a depth; must not fall as the depth grows. Called about eight times.
 * @param guessM - a depth to begin with, the old one say.
 * @returns 0 where all of it can leave.
 * Source: the storage equation as in Highway Hydrology (HDS-2, FHWA, 2002), chapter 7 (seen).
 */
export function balanceDepthM(
  storage: StageStorage,
  wholeM3: number,
  outM3: (depthM: number) => number,
  guessM: number,
): number {
  let over = outM3(0) - wholeM3;
  if (over >= 0) return 0;
  let lowM = 0;
  let lowBy = over;
  let highM = depthAt(storage, wholeM3);
  let highBy = volumeAt(storage, highM) + outM3(highM) - wholeM3;
  let atM = guessM > 0 && guessM < highM ? guessM : highM;
  let side = 0;
  for (let tries = 0; tries < mostTries && highM - lowM > levelM; tries++) {
    if (tries > 0) {
      // the secant through both ends, and the middle where it does not help
      atM = highM - (highBy * (highM - lowM)) / (highBy - lowBy);
      if (!(atM > lowM && atM < highM) || tries % 8 === 7) atM = (lowM + highM) / 2;
    }
    over = volumeAt(storage, atM) + outM3(atM) - wholeM3;
    if (over === 0) return atM;
    // Halving the value at the end that stays keeps it from staying for good (the Illinois rule).
    if (over > 0) {
      highM = atM;
      highBy = over;
      if (side > 0) lowBy /= 2;
      side = 1;
    } else {
      lowM = atM;
      lowBy = over;
      if (side < 0) highBy /= 2;
      side = -1;
    }
  }
  return (lowM + highM) / 2;
}
