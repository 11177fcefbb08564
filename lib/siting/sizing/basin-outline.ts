import { freeboardM } from '../../ground/basin-form';
import type { XY } from '../../frame/frame';
import { areaM2, centroid } from '../../frame/shapes';

/** The usual forms of a rain garden's outline. */
export type OutlineForm = 'round' | 'oval' | 'kidney' | 'teardrop';

/** An outline up to its size and place. */
export interface BasinOutline {
  readonly form: OutlineForm;
  /** Length over width. */
  readonly aspect: number;
  /** Direction of the long side, radians counter-clockwise from east; a teardrop's narrow end lies there. */
  readonly turnRad: number;
  /** x, y of each corner, counter-clockwise, for an area of 1 m2 about its centre of area at the origin. */
  readonly unit: Float64Array;
}

/** Corners of an outline: the chord lies within 0.12 % of the radius of the true curve. */
const corners = 64;
/** How far a kidney is bent, as a share of its half length; how much narrower a teardrop's narrow end is. */
const kidneyBend = 0.45;
const teardropTaper = 0.6;

/**
 * The outline of a form for an aspect and a turn. Each is an ellipse whose corners are moved one to one (bent, or
 * narrowed to one end), so none crosses itself.
 */
export function basinOutline(form: OutlineForm, aspect: number, turnRad: number): BasinOutline {
  const raw = Array.from({ length: corners }, (_, i): XY => {
    const angle = (2 * Math.PI * i) / corners;
    const x = aspect * Math.cos(angle);
    const y = Math.sin(angle);
    if (form === 'kidney') return [x, y + (kidneyBend * x * x) / aspect];
    if (form === 'teardrop') return [x, y * (1 - (teardropTaper * x) / aspect)];
    return [x, y];
  });
  const [centreX, centreY] = centroid([raw]);
  const scale = 1 / Math.sqrt(areaM2([raw]));
  const cos = Math.cos(turnRad) * scale;
  const sin = Math.sin(turnRad) * scale;
  const unit = new Float64Array(2 * corners);
  raw.forEach(([x, y], i) => {
    unit[2 * i] = (x - centreX) * cos - (y - centreY) * sin;
    unit[2 * i + 1] = (x - centreX) * sin + (y - centreY) * cos;
  });
  return { form, aspect, turnRad, unit };
}

/** The rim of an outline at a place, for an area. Corners not repeated. */
export function rimAt(outline: BasinOutline, centre: XY, areaM2: number): XY[] {
  const scale = Math.sqrt(areaM2);
  return Array.from({ length: corners }, (_, i): XY => [
    centre[0] + scale * outline.unit[2 * i],
    centre[1] + scale * outline.unit[2 * i + 1],
  ]);
}

/** The outlines that a search tries: round; ovals at three aspects in eight directions; kidneys and teardrops in eight. */
export function usualOutlines(): BasinOutline[] {
  const outlines = [basinOutline('round', 1, 0)];
  for (let k = 0; k < 8; k++) {
    // An oval looks the same after half a turn, the others after a whole one.
    for (const aspect of [1.5, 2, 3])
      outlines.push(basinOutline('oval', aspect, (k * Math.PI) / 8));
    outlines.push(basinOutline('kidney', 2, (k * Math.PI) / 4));
    outlines.push(basinOutline('teardrop', 1.6, (k * Math.PI) / 4));
  }
  return outlines;
}

/**
 * Volume of a bowl below its rim: level floor, sides of one slope.
 *
 * The area at a depth h below the rim is the outline moved inward by h times the side slope: A - P s h + pi s^2 h^2
 * (Steiner's formula, exact for a disc, within a few per cent for other rounded outlines). Where the sides meet before
 * the depth is reached the bowl ends there.
 *
 * @param perimeterM - length of the rim.
 * @param sideSlope - run for one of rise; 0 for upright sides.
 */
export function bowlVolumeM3(
  areaM2: number,
  perimeterM: number,
  depthM: number,
  sideSlope: number,
): number {
  const quadratic = Math.PI * sideSlope * sideSlope;
  const linear = perimeterM * sideSlope;
  let depth = depthM;
  if (quadratic > 0) {
    const discriminant = Math.max(0, linear * linear - 4 * quadratic * areaM2);
    depth = Math.min(depth, (linear - Math.sqrt(discriminant)) / (2 * quadratic));
  }
  return areaM2 * depth - (linear * depth * depth) / 2 + (quadratic * depth ** 3) / 3;
}

/**
 * What a bowl holds up to the sill of its notch, which lies the usual freeboard below the rim.
 *
 * For the search, which asks by the thousand: within 3 % of what the same rim holds as it is built (`stageStorage`).
 */
export function heldToSillM3(
  areaM2: number,
  perimeterM: number,
  pondingDepthM: number,
  sideSlope: number,
): number {
  const below = (depthM: number): number => bowlVolumeM3(areaM2, perimeterM, depthM, sideSlope);
  return below(freeboardM + pondingDepthM) - below(freeboardM);
}
