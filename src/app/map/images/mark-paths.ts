import type { Verdict } from '../../../../lib/verdict';

/** Strokes of the marks that go with a result, 9 pixels wide around 0, 0: tick, cross, question mark. */
export const markPaths: Readonly<Record<Verdict, string>> = {
  pass: 'M-4 0.5L-1.2 3.6L4 -3.8',
  fail: 'M-3.4 -3.4L3.4 3.4M3.4 -3.4L-3.4 3.4',
  check: 'M-2.6 -2.4C-2.6 -5.4 2.6 -5.4 2.6 -2.2C2.6 -0.2 0 -0.2 0 1.6M0 4.4V4.5',
};
