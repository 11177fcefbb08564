import { InputError } from '../errors';

/** Degrees, minutes and seconds, or decimal degrees, with a point or a comma. */
const amount = String.raw`(\d+(?:[.,]\d*)?|[.,]\d+)\s*(?:°|deg|d)?(?:\s*(\d+(?:[.,]\d+)?)\s*['′]?)?(?:\s*(\d+(?:[.,]\d+)?)\s*["″]?)?`;
const plainAngle = new RegExp(`^${amount}$`);
const quadrant = new RegExp(`^([ns])\\s*${amount}\\s*([ew])$`);
const sided = new RegExp(`^(?:(l|left|r|right)\\s*)?([-+]?)\\s*${amount}\\s*(l|left|r|right)?$`);

/**
 * A bearing as people write it, degrees clockwise from north: `45`, `45.5`, `45° 30'`, or from north or south towards
 * east or west as on deeds, `N 45 E`.
 * @throws {InputError} `angle-not-read`.
 */
export function parseBearing(text: string): number {
  const plain = tidied(text);
  const whole = plainAngle.exec(plain);
  if (whole !== null) {
    const deg = degrees(whole.slice(1, 4));
    if (deg <= 360) return deg % 360;
    throw notRead(text, 'bearing', 'it is more than 360', 'write 0 to 360, or N 45 E');
  }
  const deed = quadrant.exec(plain);
  if (deed !== null) {
    const deg = degrees(deed.slice(2, 5));
    if (deg > 90) throw notRead(text, 'bearing', 'a quarter has 90', 'write it like N 45 E');
    const fromNorth = deed[1] === 'n' ? deg : 180 - deg;
    return deed[5] === 'e' ? fromNorth : (360 - fromNorth) % 360;
  }
  throw notRead(text, 'bearing', 'it is no angle', `write it like 45, 45° 30' or N 45 E`);
}

/**
 * A turn as people write it, degrees, positive to the right: `90`, `-90`, `90 left`, `r 45`.
 * @throws {InputError} `angle-not-read`.
 */
export function parseTurn(text: string): number {
  const found = sided.exec(tidied(text));
  const [before, after] = [found?.[1], found?.[6]];
  if (found === null || (before !== undefined && after !== undefined)) {
    throw notRead(text, 'turn', 'it is no angle', 'write it like 90, 90 left or -90');
  }
  const deg = degrees(found.slice(3, 6));
  if (deg > 180)
    throw notRead(text, 'turn', 'it is more than 180', 'write 0 to 180, right or left');
  const isLeft = (before ?? after ?? 'r').startsWith('l');
  return (found[2] === '-') !== isLeft ? -deg : deg;
}

function tidied(text: string): string {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[\u2212\u2013]/g, '-')
    .trim();
}

function degrees([deg, minutes = '0', seconds = '0']: readonly string[]): number {
  const [d, m, s] = [deg, minutes, seconds].map((part) => Number(part.replace(',', '.')));
  return d + m / 60 + s / 3600;
}

function notRead(text: string, field: string, why: string, remedy: string): InputError {
  return new InputError({
    code: 'angle-not-read',
    where: field,
    problem: `'${text.slice(0, 40)}' cannot be read as an angle: ${why}`,
    remedy,
  });
}
