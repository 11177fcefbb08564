/** Map tiles under the drawing; off unless the user names them. */
export interface Backdrop {
  /** Address with `{z}`, `{x}` and `{y}`. */
  readonly template: string;
  readonly attribution: string;
  readonly tileSizePx?: number;
  readonly maxZoom?: number;
}

/** The server that learns which part of the world is looked at. */
export function hostOf({ template }: Backdrop): string {
  return new URL(template.replace(/\{[a-z]\}/g, '0')).host;
}
