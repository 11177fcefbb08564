/** Something worth knowing about an elevation file or window. Never an error: the work goes on with it. */
export interface Note {
  /** Stable kebab-case word that tests and callers may branch on, for example `coarse-cells`. */
  readonly code: string;
  /** `warning` when results suffer from it, `info` when it only says what was done or assumed. */
  readonly level: 'info' | 'warning';
  /** One or two sentences for people, with the figures in them. */
  readonly text: string;
  /** Set when a site must not be chosen on these data; the text says why. */
  readonly refusesSiting?: true;
  /** Set when every result suffers so much from it that it stands before them. */
  readonly atTop?: true;
}

export function info(code: string, text: string): Note {
  return { code, level: 'info', text };
}

export function warning(code: string, text: string): Note {
  return { code, level: 'warning', text };
}

/** A number of cells, for people. */
export function inMillions(cells: number): string {
  return cells < 1e6 ? `${cells} cells` : `${round(cells / 1e6)} million cells`;
}

/** Three figures, for people. */
export function round(value: number): string {
  return Number(value.toPrecision(3)).toString();
}
