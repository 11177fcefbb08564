import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Fonts } from '../../../lib/sheet/drawing/fonts';

const read = (name: string): Uint8Array =>
  readFileSync(fileURLToPath(new URL(`../../../lib/sheet/fonts/${name}.ttf`, import.meta.url)));

/** The fonts of the sheet, as the command reads them. */
export function testFonts(): Fonts {
  return new Fonts({
    text: read('source-sans-3-400'),
    'text-bold': read('source-sans-3-600'),
    label: read('barlow-semi-condensed-500'),
    'label-bold': read('barlow-semi-condensed-600'),
  });
}
