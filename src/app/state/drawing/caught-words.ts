import type { Caught, CatchKind } from '../../../../lib/drawing/catches';

export const kindWords: Readonly<Record<CatchKind, string>> = {
  corner: 'at a corner',
  middle: 'at the middle of a side',
  edge: 'on an edge',
  'square-on': 'square onto an edge',
  'in-line': 'in line with an edge',
  parallel: 'parallel to an edge',
  'right-angle': 'right angle',
  level: 'level with a corner',
  crossing: 'where two lines cross',
};

/** What caught a corner, in words. */
export function caughtWords({ kind, of }: Caught): string {
  if (kind !== 'crossing') return kindWords[kind];
  const [a, b] = of.map((each) => kindWords[each]);
  return a === b ? kindWords.crossing : `${a}, ${b}`;
}
