import { InputError } from '../../errors';
import { footM, inchM, type UnitSystem } from '../../units/units';

/** Ground metres for one of paper: 100 in 1 : 100. */
export type ScaleRatio = number;

/** Scales that a ruler has: of metric drawings, and of drawings in feet to an inch. */
const roundScales: Readonly<Record<UnitSystem, readonly ScaleRatio[]>> = {
  metric: [5, 10, 20, 25, 50, 100, 200, 250, 500, 1000, 2000, 2500, 5000, 10_000],
  us: [6, 12, 24, 48, 96, 120, 240, 360, 480, 600, 1200, 2400, 4800, 6000, 12_000],
};

/** Room on paper and what is to be drawn in it. */
export interface ToFit {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly widthM: number;
  readonly heightM: number;
}

/** Whether something fits at a scale. */
export function fits({ widthMm, heightMm, widthM, heightM }: ToFit, ratio: ScaleRatio): boolean {
  return (1000 * widthM) / ratio <= widthMm && (1000 * heightM) / ratio <= heightMm;
}

/** The largest round scale at which something fits. */
export function chosenScale(room: ToFit, units: UnitSystem): ScaleRatio {
  const offered = roundScales[units];
  return offered.find((ratio) => fits(room, ratio)) ?? offered[offered.length - 1];
}

/**
 * The scale asked for.
 *
 * @throws {InputError} `scale-does-not-fit`, with the one that does.
 */
export function askedScale(
  ratio: ScaleRatio,
  room: ToFit,
  units: UnitSystem,
  paper: string,
): ScaleRatio {
  if (fits(room, ratio)) return ratio;
  const needs = (metres: number): number => Math.ceil((1000 * metres) / ratio);
  throw new InputError({
    code: 'scale-does-not-fit',
    where: '--scale',
    problem: `at ${scaleText(ratio, units)} the lot takes ${needs(room.widthM)} by ${needs(room.heightM)} mm, and ${paper} has ${Math.floor(room.widthMm)} by ${Math.floor(room.heightMm)} mm for it`,
    remedy: `take ${scaleText(chosenScale(room, units), units)}, which fits, or a larger paper`,
  });
}

/** A scale as it is written: 1 : 100, in feet with the inch that an engineer's ruler has. */
export function scaleText(ratio: ScaleRatio, units: UnitSystem): string {
  const feet = (ratio * inchM) / footM;
  return units === 'us' && feet >= 1 && Number.isInteger(Math.round(feet * 1e6) / 1e6)
    ? `1 in = ${Math.round(feet)} ft (1:${ratio})`
    : `1:${ratio}`;
}

/** Reads a scale such as 1:100, or 1in=10ft; `null` where it is none. */
export function readScale(text: string): ScaleRatio | null {
  const plain = /^\s*1\s*[:/]\s*(\d{1,6})\s*$/.exec(text);
  if (plain !== null) return Number(plain[1]) > 0 ? Number(plain[1]) : null;
  const feet = /^\s*1\s*(?:in|")\s*=\s*(\d{1,5})\s*(?:ft|')\s*$/i.exec(text);
  if (feet === null || Number(feet[1]) === 0) return null;
  return Math.round((Number(feet[1]) * footM) / inchM);
}

/** A round length for a scale bar of at most so many millimetres, and its parts. */
export function barLength(
  ratio: ScaleRatio,
  mostMm: number,
  units: UnitSystem,
): {
  readonly lengthM: number;
  readonly parts: number;
  readonly unitM: number;
  readonly unit: string;
} {
  const [unitM, unit] = units === 'us' ? [footM, 'ft'] : [1, 'm'];
  const most = (mostMm * ratio) / 1000 / unitM;
  const power = 10 ** Math.floor(Math.log10(most));
  const first = [5, 2, 1].find((each) => each * power <= most) ?? 1;
  return { lengthM: first * power * unitM, parts: first === 2 ? 4 : 5, unitM, unit };
}
