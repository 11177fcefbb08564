import {
  acreM2,
  cubicFootM3,
  footM,
  gallonM3,
  hectareM2,
  inchM,
  litreM3,
  squareFootM2,
  type UnitSystem,
} from './units';

/** Two decimals of a metre: what a tape and a lot plan bear. */
const tapeM = 0.01;

/**
 * A length as text in the user's units, rounded to what the data bear. US lengths are whole inches below 3 ft,
 * feet and inches while the precision is an inch or so, decimal feet when it is coarser.
 *
 * @param precisionM - the error that the figure has, metres; no digit below it is shown.
 */
export function formatLength(metres: number, system: UnitSystem, precisionM = tapeM): string {
  if (!Number.isFinite(metres)) return unknown;
  if (system === 'metric') {
    return Math.abs(metres) < 1 && precisionM <= 0.01
      ? `${rounded(metres / 0.01, precisionM / 0.01)} cm`
      : `${rounded(metres, precisionM)} m`;
  }
  const sign = metres < 0 ? '-' : '';
  // Halves of an inch are for a tape; below a quarter of an inch of error, tenths.
  const stepIn = precisionM <= 0.006 ? 0.1 : precisionM <= 0.013 ? 0.5 : 1;
  const inches = Math.round(Math.abs(metres) / inchM / stepIn) * stepIn;
  if (precisionM > 0.03) return `${rounded(metres / footM, precisionM / footM)} ft`;
  if (inches < 36) return `${inches === 0 ? '' : sign}${plain(inches)} in`;
  const wholeInches = Math.round(Math.abs(metres) / inchM);
  const feet = Math.floor(wholeInches / 12);
  const left = wholeInches - 12 * feet;
  return `${sign}${feet} ft${left === 0 ? '' : ` ${left} in`}`;
}

/** An area as text, three figures: square metres or feet, hectares or acres when large. */
export function formatArea(areaM2: number, system: UnitSystem): string {
  if (!Number.isFinite(areaM2)) return unknown;
  if (system === 'metric') {
    return areaM2 >= hectareM2 ? `${figures(areaM2 / hectareM2)} ha` : `${figures(areaM2)} m²`;
  }
  return areaM2 >= acreM2
    ? `${figures(areaM2 / acreM2)} acres`
    : `${figures(areaM2 / squareFootM2)} ft²`;
}

/**
 * A volume as text, three figures: litres below a cubic metre and cubic metres above, or gallons below 1,000 of
 * them and cubic feet above.
 *
 * @param ofM3 - the volume whose unit to take, so that figures in a row can be compared.
 */
export function formatVolume(volumeM3: number, system: UnitSystem, ofM3 = volumeM3): string {
  if (!Number.isFinite(volumeM3)) return unknown;
  const size = Math.abs(ofM3);
  if (system === 'metric') {
    return size < 1 ? `${figures(volumeM3 / litreM3)} L` : `${figures(volumeM3)} m³`;
  }
  return size < 1000 * gallonM3
    ? `${figures(volumeM3 / gallonM3)} gal`
    : `${figures(volumeM3 / cubicFootM3)} ft³`;
}

/** A depth of rain as text: whole millimetres from 10 on, or inches to a hundredth. */
export function formatRain(rainMm: number, system: UnitSystem): string {
  if (!Number.isFinite(rainMm)) return unknown;
  if (system === 'us') return `${((rainMm * 0.001) / inchM).toFixed(2)} in`;
  return `${rounded(rainMm, rainMm < 10 ? 0.1 : 1)} mm`;
}

/** A slope (rise over run) as a percentage, one decimal below 10 %. */
export function formatSlope(ratio: number): string {
  if (!Number.isFinite(ratio)) return unknown;
  const percent = ratio * 100;
  return `${percent.toFixed(Math.abs(percent) < 9.95 ? 1 : 0)} %`;
}

/** A velocity of water as text, to a twentieth or so: metres or feet a second. */
export function formatSpeed(mPerS: number, system: UnitSystem): string {
  if (!Number.isFinite(mPerS)) return unknown;
  return system === 'us' ? `${(mPerS / footM).toFixed(1)} ft/s` : `${mPerS.toFixed(2)} m/s`;
}

/** Shown for what is not known. */
const unknown = '–';

/** A value rounded to a step of 1, 2, 5, 10 ... no finer than `precision`, without digits below it. */
function rounded(value: number, precision: number): string {
  const decimals = Math.max(0, -Math.floor(Math.log10(precision) + 1e-9));
  const step = precision > 1 ? 10 ** Math.floor(Math.log10(precision) + 1e-9) : 0;
  // No commas: a length shown may be typed back, and 1,235 can be read two ways.
  return fixed(step > 1 ? Math.round(value / step) * step : value, decimals);
}

/** At most three figures, none of them a decimal beyond the first when there is a figure before it. */
function figures(value: number): string {
  const size = Math.abs(value);
  // What rounding leaves of nothing is nothing.
  if (size < 0.0005) return '0';
  if (size < 9.95) return grouped(value, size < 0.095 ? 3 : size < 0.995 ? 2 : 1);
  const step = 10 ** Math.max(0, Math.floor(Math.log10(size)) - 2);
  return grouped(Math.round(value / step) * step);
}

/** A number with commas between thousands. */
function grouped(value: number, decimals = 0): string {
  const text = fixed(value, decimals);
  const point = text.indexOf('.');
  const whole = point === -1 ? text : text.slice(0, point);
  const commas = whole.replace(/\B(?=(\d{3})+$)/g, ',');
  return commas + text.slice(whole.length);
}

/** A number with so many decimals, and no minus before a zero. */
function fixed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text;
}

/** Inches without a needless decimal. */
function plain(value: number): string {
  return value.toFixed(1).replace(/\.0$/, '');
}
