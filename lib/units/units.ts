/**
 * Exact factors to SI, the only place where another unit is known.
 *
 * Sources: NIST Special Publication 811 (2008), appendix B, from memory: the international foot is 0.3048 m
 * exactly, the US survey foot 1200/3937 m, the US liquid gallon 231 cubic inches,
 * the pound 0.45359237 kg.
 */

/** Which units a user is shown, and reads numbers without a unit in. */
export type UnitSystem = 'us' | 'metric';

export const footM = 0.3048;
export const inchM = footM / 12;
export const yardM = 3 * footM;
/** The foot of many US state plane grids and older elevations; retired at the end of 2022, still in files. */
export const surveyFootM = 1200 / 3937;

/** Areas and volumes follow from the lengths, so that no factor is typed twice. */
export const squareFootM2 = footM ** 2;
export const acreM2 = 43_560 * squareFootM2;
export const hectareM2 = 100 ** 2;
export const cubicFootM3 = footM ** 3;
export const cubicYardM3 = yardM ** 3;
export const gallonM3 = 231 * inchM ** 3;
export const litreM3 = 0.1 ** 3;

export const poundKg = 0.45359237;
export const shortTonKg = 2000 * poundKg;
export const tonneKg = 1000;

/** Millimetres of an inch, exact; `inchM` misses it by its last binary digit. */
export const inchMm = 25.4;

export const hourS = 3600;
export const dayS = 24 * hourS;
export const hourMin = 60;
export const dayMin = 24 * hourMin;

/** Millimetres an hour that a metre a second is. */
export const mmPerHOfMPerS = 1000 * hourS;
export const inchPerHMPerS = inchM / hourS;
