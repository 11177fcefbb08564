/**
 * Cuts a growing total into steps whose sum, in whatever order it is taken, is the total to the last bit.
 *
 * Every step is a whole multiple of the total's last bit, so that no partial sum is rounded.
 *
 * @param totalMm - at least 0.
 * @param grownMm - what has come by the end of step 1, 2, ...; where it falls, nothing comes until it is made up for. The
 *   last step ends at the total whatever is said here.
 * @returns one depth for each step, none below 0.
 */
export function exactSteps(
  count: number,
  totalMm: number,
  grownMm: (step: number) => number,
): Float64Array {
  const steps = new Float64Array(count);
  if (!(totalMm > 0)) return steps;
  // Rounded up just below a power of two, the logarithm gives twice the last bit, which does as well.
  const lastBit = Math.max(2 ** (Math.floor(Math.log2(totalMm)) - 52), Number.MIN_VALUE);
  let before = 0;
  for (let step = 1; step <= count; step++) {
    const grown = step === count ? totalMm : Math.round(grownMm(step) / lastBit) * lastBit;
    const now = Math.min(totalMm, Math.max(before, grown));
    steps[step - 1] = now - before;
    before = now;
  }
  return steps;
}
