import type { Polygon } from 'geojson';
import { localFrame, makeFrame, type LngLat } from '../../../../lib/frame/frame';
import { basinOutline, type OutlineForm } from '../../../../lib/siting/sizing/basin-outline';
import { formatLength } from '../../../../lib/units/format';
import type { PlacedOutline } from '../../state/session/tool';
import { handRim } from './hand-rim';
import type { UnitSystem } from '../../../../lib/units/units';
import { nudgeOfKey } from './nudge';
import { tidyGeometry } from '../../state/plan/tidy-geometry';

/** Least and most of length and width, metres; how many times longer than wide an outline may be. Choices. */
const leastM = 0.5;
const mostM = 100;
const mostAspect = 6;

/** Length over width to begin with, as in the search for places. */
const usualAspect: Readonly<Record<OutlineForm, number>> = {
  round: 1,
  oval: 1.5,
  kidney: 2,
  teardrop: 1.6,
};
/** Area to begin with, m2. A choice; it is changed at once. */
const usualAreaM2 = 15;

/**
 * An outline of a form as it is taken up: in place of another one as large as that, turned the same way and at the same
 * place; else of usual size, lying nowhere.
 */
export function usualOutline(form: OutlineForm, before: PlacedOutline | null): PlacedOutline {
  const aspect = usualAspect[form];
  const areaM2 = before === null ? usualAreaM2 : outlineAreaM2(before);
  const lengthM = Math.sqrt(areaM2) * extent(form, aspect).lengthM;
  return {
    form,
    lengthM: toCm(lengthM),
    widthM: toCm(lengthM / aspect),
    turnRad: before?.turnRad ?? 0,
    centre: before?.centre ?? null,
  };
}

/** An outline with another length and width; a sentence where there is no such outline. */
export function withSize(
  outline: PlacedOutline,
  lengthM: number,
  widthM: number,
  units: UnitSystem,
): PlacedOutline | string {
  const isRound = outline.form === 'round';
  const size = { lengthM, widthM: isRound ? lengthM : widthM };
  if (Math.min(size.lengthM, size.widthM) < leastM || Math.max(size.lengthM, size.widthM) > mostM) {
    const [least, most] = [leastM, mostM].map((limitM) => formatLength(limitM, units));
    return `A basin is drawn from ${least} to ${most} long and wide: give a length between them.`;
  }
  const aspect = size.lengthM / size.widthM;
  if (aspect < 1) return 'The length is the longer way: give a width that is no larger than it.';
  if (aspect > mostAspect) {
    return `An outline of this form is at most ${mostAspect} times as long as wide: make it wider or shorter.`;
  }
  return { ...outline, ...size };
}

/** An outline at its place, as a polygon of the plan; `null` while it lies nowhere. */
export function outlinePolygon(outline: PlacedOutline): Polygon | null {
  const { form, lengthM, widthM, turnRad, centre } = outline;
  if (centre === null) return null;
  const shape = basinOutline(form, lengthM / widthM, turnRad);
  const { toLngLat } = makeFrame(localFrame(centre));
  const rim = handRim(shape, [0, 0], outlineAreaM2(outline));
  const ring = [...rim, rim[0]].map((at) => [...toLngLat(at)]);
  return tidyGeometry({ type: 'Polygon', coordinates: [ring] }) as Polygon;
}

/** Area of an outline. */
export function outlineAreaM2({ form, lengthM, widthM }: PlacedOutline): number {
  return (lengthM / extent(form, lengthM / widthM).lengthM) ** 2;
}

/**
 * An outline whose tip lies level with a place: turned towards it and as long as it is away, as many times longer than
 * wide as before. Unchanged for a place at the centre.
 */
export function stretchedTo(outline: PlacedOutline, place: LngLat): PlacedOutline {
  const { form, lengthM, widthM, centre } = outline;
  if (centre === null) return outline;
  const [x, y] = makeFrame(localFrame(centre)).toLocal(place);
  const reachM = Math.hypot(x, y);
  if (reachM < 0.05) return outline;
  const aspect = lengthM / widthM;
  const unit = extent(form, aspect);
  const longM = within((reachM / unit.tipM) * unit.lengthM, leastM * aspect, mostM);
  const turnRad = Math.atan2(y, x);
  return { ...outline, lengthM: toCm(longM), widthM: toCm(longM / aspect), turnRad };
}

/** How far one press turns an outline, and how much larger or smaller one makes it. */
const turnDeg = 5;
const growth = 1.05;

/**
 * What a key makes of an outline at its place: arrows move it, R and Shift+R turn it clockwise and back, plus and minus
 * change its size. `null` for other keys.
 */
export function outlineOfKey(
  outline: PlacedOutline,
  key: string,
  shift: boolean,
): PlacedOutline | null {
  if (outline.centre === null) return null;
  const nudge = nudgeOfKey(key, { shiftKey: shift, altKey: false });
  if (nudge !== null) {
    return { ...outline, centre: makeFrame(localFrame(outline.centre)).toLngLat(nudge) };
  }
  switch (key) {
    case 'r':
    case 'R': {
      const turn = ((shift ? 1 : -1) * turnDeg * Math.PI) / 180;
      return { ...outline, turnRad: outline.turnRad + turn };
    }
    case '+':
    case '=':
      return resized(outline, growth);
    case '-':
    case '_':
      return resized(outline, 1 / growth);
    default:
      return null;
  }
}

/** Which way the long side points, degrees clockwise from north, 0 to 359. */
export function bearingOf({ turnRad }: PlacedOutline): number {
  return ((Math.round(90 - (turnRad * 180) / Math.PI) % 360) + 360) % 360;
}

/** An outline whose long side points another way, degrees clockwise from north. */
export function withBearing(outline: PlacedOutline, bearingDeg: number): PlacedOutline {
  return { ...outline, turnRad: ((90 - bearingDeg) * Math.PI) / 180 };
}

function resized(outline: PlacedOutline, factor: number): PlacedOutline {
  const changed = withSize(outline, outline.lengthM * factor, outline.widthM * factor, 'metric');
  return typeof changed === 'string' ? outline : changed;
}

/** Length of a form of 1 m2, and how far from its centre of area the tip lies towards which it is turned. */
function extent(form: OutlineForm, aspect: number): { lengthM: number; tipM: number } {
  const { unit } = basinOutline(form, aspect, 0);
  let [back, tip] = [0, 0];
  for (let i = 0; i < unit.length; i += 2) {
    back = Math.min(back, unit[i]);
    tip = Math.max(tip, unit[i]);
  }
  return { lengthM: tip - back, tipM: tip };
}

function within(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}

function toCm(metres: number): number {
  return Math.round(metres * 100) / 100;
}
