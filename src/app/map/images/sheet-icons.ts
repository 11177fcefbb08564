import type { Ink } from '../../look/ink';
import { tileRatio } from './pattern-tiles';

interface Icon {
  readonly name: string;
  /** Side in sheet pixels; the drawing has its middle at 0, 0. */
  readonly sizePx: number;
  readonly draw: (pen: OffscreenCanvasRenderingContext2D, ink: Ink) => void;
}

const icons: readonly Icon[] = [
  {
    name: 'flow-arrow',
    sizePx: 14,
    draw: (pen, ink) => {
      arrow(pen, ink.flow);
    },
  },
  {
    name: 'water-arrow',
    sizePx: 14,
    draw: (pen, ink) => {
      arrow(pen, ink.water);
    },
  },
  {
    name: 'wall-tick',
    sizePx: 14,
    draw: (pen, ink) => {
      pen.strokeStyle = ink.ink;
      pen.lineWidth = 1.1;
      line(pen, [0, 0, 0, 5]);
    },
  },
  {
    name: 'berm-tick',
    sizePx: 16,
    draw: (pen, ink) => {
      pen.strokeStyle = ink.contourText;
      pen.lineWidth = 1;
      line(pen, [0, -5.5, 0, 5.5]);
    },
  },
  {
    name: 'well',
    sizePx: 22,
    draw: (pen, ink) => {
      pen.strokeStyle = ink.utility.water;
      pen.fillStyle = ink.paper;
      pen.lineWidth = 2.2;
      circle(pen, 6.5, true);
      pen.fillStyle = ink.utility.water;
      pen.beginPath();
      pen.arc(0, 0, 1.8, 0, 7);
      pen.fill();
    },
  },
  {
    name: 'septic-tank',
    sizePx: 24,
    draw: (pen, ink) => {
      pen.strokeStyle = ink.septic;
      pen.fillStyle = ink.paper;
      pen.lineWidth = 1.6;
      pen.beginPath();
      pen.roundRect(-9, -5.5, 18, 11, 2.5);
      pen.fill();
      pen.stroke();
      line(pen, [1.5, -5.5, 1.5, 5.5]);
    },
  },
  {
    name: 'yard-drain',
    sizePx: 20,
    draw: (pen, ink) => {
      pen.strokeStyle = ink.ink;
      pen.fillStyle = ink.paper;
      pen.lineWidth = 1.4;
      pen.beginPath();
      pen.rect(-5.5, -5.5, 11, 11);
      pen.fill();
      pen.stroke();
      pen.lineWidth = 1.1;
      for (const x of [-2.7, 0, 2.7]) line(pen, [x, -5.5, x, 5.5]);
    },
  },
  {
    name: 'observation',
    sizePx: 20,
    draw: (pen, ink) => {
      pen.strokeStyle = ink.water;
      pen.fillStyle = ink.paper;
      pen.lineWidth = 1.6;
      circle(pen, 5.5, true);
      line(pen, [-3, 0, 3, 0]);
    },
  },
  {
    name: 'window-well',
    sizePx: 20,
    draw: (pen, ink) => {
      pen.strokeStyle = ink.ink;
      pen.fillStyle = ink.paper;
      pen.lineWidth = 1.4;
      pen.beginPath();
      pen.rect(-6.5, -3.5, 13, 7);
      pen.fill();
      pen.stroke();
    },
  },
  {
    name: 'sump-outlet',
    sizePx: 22,
    draw: (pen, ink) => {
      pen.strokeStyle = ink.water;
      pen.fillStyle = ink.paper;
      pen.lineWidth = 1.7;
      circle(pen, 6, true);
      line(pen, [0, -3.4, 0, 3]);
      line(pen, [-2.6, 0.6, 0, 3.4, 2.6, 0.6]);
    },
  },
  {
    name: 'spot-height',
    sizePx: 14,
    draw: (pen, ink) => {
      pen.strokeStyle = ink.contourText;
      pen.lineWidth = 1.3;
      line(pen, [-4, 0, 4, 0]);
      line(pen, [0, -4, 0, 4]);
    },
  },
  {
    name: 'soil-test',
    sizePx: 20,
    draw: (pen, ink) => {
      pen.strokeStyle = ink.contourText;
      pen.fillStyle = ink.paper;
      pen.lineWidth = 1.5;
      circle(pen, 5.5, true);
      pen.fillStyle = ink.contourText;
      pen.beginPath();
      pen.moveTo(0, 0);
      pen.arc(0, 0, 5.5, 0, Math.PI / 2);
      pen.closePath();
      pen.fill();
      pen.beginPath();
      pen.moveTo(0, 0);
      pen.arc(0, 0, 5.5, Math.PI, 1.5 * Math.PI);
      pen.closePath();
      pen.fill();
    },
  },
];

/** The symbols of the sheet in one ink, by name, `tileRatio` device pixels to a sheet pixel. */
export function sheetIcons(ink: Ink): Map<string, ImageData> {
  const drawn = new Map<string, ImageData>();
  for (const icon of icons) {
    const size = icon.sizePx * tileRatio;
    const pen = new OffscreenCanvas(size, size).getContext('2d', { willReadFrequently: true });
    if (pen === null) continue;
    pen.translate(size / 2, size / 2);
    pen.scale(tileRatio, tileRatio);
    pen.lineCap = 'round';
    pen.lineJoin = 'round';
    icon.draw(pen, ink);
    drawn.set(icon.name, pen.getImageData(0, 0, size, size));
  }
  return drawn;
}

/** A slender head that points east; the map turns it along its line. */
function arrow(pen: OffscreenCanvasRenderingContext2D, colour: string): void {
  pen.fillStyle = colour;
  pen.beginPath();
  pen.moveTo(5, 0);
  pen.lineTo(-4.5, 3.4);
  pen.lineTo(-2.6, 0);
  pen.lineTo(-4.5, -3.4);
  pen.closePath();
  pen.fill();
}

function circle(pen: OffscreenCanvasRenderingContext2D, radius: number, filled: boolean): void {
  pen.beginPath();
  pen.arc(0, 0, radius, 0, 2 * Math.PI);
  if (filled) pen.fill();
  pen.stroke();
}

function line(pen: OffscreenCanvasRenderingContext2D, points: readonly number[]): void {
  pen.beginPath();
  for (let i = 0; i + 1 < points.length; i += 2) pen.lineTo(points[i], points[i + 1]);
  pen.stroke();
}
