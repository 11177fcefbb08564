let pen: OffscreenCanvasRenderingContext2D | null = null;

/** Width of a text of the sheet in its condensed face, pixels. */
export function labelWidth(text: string, weight: 500 | 600, sizePx: number): number {
  pen ??= new OffscreenCanvas(1, 1).getContext('2d');
  if (pen === null) return text.length * sizePx * 0.5;
  pen.font = `${weight} ${sizePx}px "Barlow Semi Condensed", sans-serif`;
  return pen.measureText(text).width;
}
