import type { Backdrop } from '../../state/session/backdrop';

/** OpenStreetMap's raster tiles, as its tile usage policy allows for light use by people looking at a map. */
export const openStreetMap: Backdrop = {
  template: 'https://tile.openstreetmap.org/{z}/{x}/{y}.png',
  attribution: '© OpenStreetMap contributors',
  tileSizePx: 256,
  maxZoom: 19,
};

/**
 * A backdrop from what the user typed, or a sentence saying what is missing.
 *
 * @param template - address with {z}, {x} and {y}.
 */
export function backdropFrom(template: string, attribution: string): Backdrop | string {
  const missing = ['{z}', '{x}', '{y}'].filter((mark) => !template.includes(mark));
  if (missing.length > 0) return `The address of the tiles lacks ${missing.join(', ')}.`;
  let url: URL;
  try {
    url = new URL(template.replace(/\{[a-z]\}/g, '0'));
  } catch {
    return 'The address of the tiles is not a web address.';
  }
  const local = url.hostname === '127.0.0.1' || url.hostname === 'localhost';
  if (url.protocol !== 'https:' && !(url.protocol === 'http:' && local)) {
    return 'The address of the tiles must begin with https://.';
  }
  return { template, attribution: attribution.trim() === '' ? url.hostname : attribution.trim() };
}
