import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { Fonts } from '../../../lib/sheet/drawing/fonts';
import { InputError } from '../../../lib/errors';

const names = {
  text: 'source-sans-3-400.ttf',
  'text-bold': 'source-sans-3-600.ttf',
  label: 'barlow-semi-condensed-500.ttf',
  'label-bold': 'barlow-semi-condensed-600.ttf',
} as const;
/** From where the package has the command built, in its root or in its parts, and from the sources. */
const folders = ['../../lib/sheet/fonts/', '../../../lib/sheet/fonts/'];

/** Opens the fonts of the sheet, which lie beside the program. */
export async function sheetFonts(): Promise<Fonts> {
  for (const folder of folders) {
    const read = (name: string): Promise<Uint8Array> =>
      readFile(fileURLToPath(new URL(`${folder}${name}`, import.meta.url)));
    try {
      const text = await read(names.text);
      return new Fonts({
        text,
        'text-bold': await read(names['text-bold']),
        label: await read(names.label),
        'label-bold': await read(names['label-bold']),
      });
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
    }
  }
  throw new InputError({
    code: 'fonts-missing',
    where: 'lotfall',
    problem: 'the fonts of the sheet are not beside the program',
    remedy: 'install it anew, with its folder lib/sheet/fonts',
  });
}
