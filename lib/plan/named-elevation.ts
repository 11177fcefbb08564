import type { ElevationIdentity } from '../elevation/file/elevation-identity';
import type { Plan, Settings } from './schema';

type Named = NonNullable<Settings['elevation']>;

/**
 * Whether a plan was drawn on an elevation file: `same` or `other` where size or checksum say so or the names agree,
 * `unsure` where only the names differ, since files are renamed, and `unnamed` where the plan names none.
 */
export function drawnOn(
  plan: Plan,
  file: ElevationIdentity,
): 'same' | 'other' | 'unsure' | 'unnamed' {
  const { source, size_bytes: sizeBytes, crc32, of_levels } = plan.lotfall.elevation ?? {};
  // Ground of levels is named after what it is made from; its bytes may differ in the last digit of a height.
  if (of_levels === true) return source === file.name ? 'same' : 'other';
  if (source === undefined && sizeBytes === undefined && crc32 === undefined) return 'unnamed';
  if (sizeBytes !== undefined && file.sizeBytes !== null && sizeBytes !== file.sizeBytes) {
    return 'other';
  }
  if (crc32 !== undefined && file.crc32 !== null) return crc32 === file.crc32 ? 'same' : 'other';
  return source !== undefined && lastPart(source) === lastPart(file.name) ? 'same' : 'unsure';
}

/**
 * The plan as drawn on a file, which it names. What it says of its elevation's error and unit is kept unless it was
 * said of another file.
 */
export function onElevation(plan: Plan, file: ElevationIdentity): Plan {
  const before = plan.lotfall.elevation ?? {};
  const said: Named = drawnOn(plan, file) === 'other' ? {} : { ...before };
  delete said.source;
  delete said.size_bytes;
  delete said.crc32;
  const named: Named = {
    source: file.name,
    ...(file.sizeBytes === null ? {} : { size_bytes: file.sizeBytes }),
    ...(file.crc32 === null ? {} : { crc32: file.crc32 }),
    ...said,
  };
  const isSame =
    before.source === named.source &&
    before.size_bytes === named.size_bytes &&
    before.crc32 === named.crc32;
  return isSame ? plan : { ...plan, lotfall: { ...plan.lotfall, elevation: named } };
}

/** What a plan calls the file that it was drawn on, with its size; null when it names none. */
export function elevationWords({ lotfall: { elevation } }: Plan): string | null {
  if (elevation?.source === undefined) return null;
  const { source, size_bytes: sizeBytes } = elevation;
  return sizeBytes === undefined ? source : `${source} (${sizeText(sizeBytes)})`;
}

/** A size in decimal units, as file managers show it. */
function sizeText(bytes: number): string {
  if (bytes < 1000) return `${bytes} bytes`;
  return bytes < 999_500 ? `${(bytes / 1e3).toFixed(0)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

function lastPart(name: string): string {
  return name.slice(Math.max(name.lastIndexOf('/'), name.lastIndexOf('\\')) + 1);
}
