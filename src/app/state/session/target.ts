/** Anything that can be pointed at, on the map or from beside it. A site's id is its rank, that of a place to level next its number. */
export interface Target {
  readonly kind: 'feature' | 'low-spot' | 'site' | 'keep-clear' | 'margin' | 'reading';
  readonly id: string;
}
