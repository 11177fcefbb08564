/** Map tiles under the drawing; off unless the user names them. */
export interface Backdrop {
  /** Address with `{z}`, `{x}` and `{y}`. */
  readonly template: string;
  readonly attribution: string;
  readonly tileSizePx?: number;
  readonly maxZoom?: number;
}
