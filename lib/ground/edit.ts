/** What one feature of the plan did to the ground. */
export interface Edit {
  readonly id: string;
  readonly kind:
    | 'spot-height'
    | 'regrade'
    | 'swale'
    | 'berm'
    | 'basin'
    | 'wall'
    | 'kerb'
    | 'building'
    | 'drain-pipe'
    | 'yard-drain'
    | 'trench-drain';
  /** Ground taken away and ground added, m3 in place; 0 for what stands on the ground or corrects its survey. */
  readonly cutM3: number;
  readonly fillM3: number;
  /** What had to be assumed or is worth knowing, in the user's words. */
  readonly notes: readonly string[];
}

/** An edit that moves no earth. */
export function unmoved(id: string, kind: Edit['kind'], notes: readonly string[] = []): Edit {
  return { id, kind, cutM3: 0, fillM3: 0, notes };
}

/** Sets heights one at a time and keeps count of what that cuts and fills. */
export class CountedEdits {
  #cutM = 0;
  #fillM = 0;

  constructor(
    readonly z: Float32Array,
    readonly cellM2: number,
  ) {}

  /** Gives a cell a height; one without data stays without. */
  set(cell: number, heightM: number): void {
    const before = this.z[cell];
    if (Number.isNaN(before)) return;
    this.z[cell] = heightM;
    const change = this.z[cell] - before;
    if (change > 0) this.#fillM += change;
    else this.#cutM -= change;
  }

  edit(id: string, kind: Edit['kind'], notes: readonly string[] = []): Edit {
    return {
      id,
      kind,
      cutM3: this.#cutM * this.cellM2,
      fillM3: this.#fillM * this.cellM2,
      notes,
    };
  }
}
