import type { Target } from '../../state/session/target';

/** One thing drawn under the pointer. */
export interface Hit {
  readonly source: string;
  readonly geometryType: string;
  readonly id: string;
  /** Ground area where it has one. */
  readonly areaM2?: number;
}

const kinds: Readonly<Record<string, Target['kind']>> = {
  plan: 'feature',
  'low-spots': 'low-spot',
  sites: 'site',
  'keep-clear': 'keep-clear',
};

/**
 * What is meant among the things under the pointer: a point before a line before an area, a smaller area
 * before a larger one, the plan's features before what was worked out from them; `null` for bare ground.
 */
export function pick(hits: readonly Hit[]): Target | null {
  let best: Hit | null = null;
  for (const hit of hits) if (best === null || rank(hit) < rank(best)) best = hit;
  if (best === null) return null;
  return { kind: kinds[best.source] ?? 'feature', id: best.id };
}

/** Smaller is meant rather. Areas rank above 10 by size; no lot reaches the next source's thousand millions. */
function rank(hit: Hit): number {
  const order = ['plan', 'sites', 'low-spots', 'keep-clear'].indexOf(hit.source);
  const shape = hit.geometryType.includes('Point') ? 0 : hit.geometryType.includes('Line') ? 1 : 10;
  if (shape < 10) return shape;
  return 10 + (hit.areaM2 ?? 0) + order * 1e9;
}
