/** Anything that can be pointed at, on the map or from beside it. A site's id is its rank. */
export interface Target {
  readonly kind: 'feature' | 'low-spot' | 'site' | 'keep-clear' | 'margin';
  readonly id: string;
}
