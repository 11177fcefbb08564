import labelBoldUrl from '../../../lib/sheet/fonts/barlow-semi-condensed-600.ttf?url';
import labelUrl from '../../../lib/sheet/fonts/barlow-semi-condensed-500.ttf?url';
import textBoldUrl from '../../../lib/sheet/fonts/source-sans-3-600.ttf?url';
import textUrl from '../../../lib/sheet/fonts/source-sans-3-400.ttf?url';
import { InputError } from '../../../lib/errors';
import { Fonts } from '../../../lib/sheet/drawing/fonts';

let fonts: Promise<Fonts> | null = null;

/** The fonts of the sheet, fetched once. @throws {InputError} `fonts-missing` */
export function openedFonts(): Promise<Fonts> {
  // One that could not be fetched is tried again.
  fonts ??= openFonts().catch((error: unknown) => {
    fonts = null;
    throw error;
  });
  return fonts;
}

async function openFonts(): Promise<Fonts> {
  const [text, textBold, label, labelBold] = await Promise.all(
    [textUrl, textBoldUrl, labelUrl, labelBoldUrl].map(fetched),
  );
  return new Fonts({ text, 'text-bold': textBold, label, 'label-bold': labelBold });
}

async function fetched(url: string): Promise<Uint8Array> {
  const answer = await fetch(url).catch(() => null);
  if (answer?.ok !== true) {
    throw new InputError({
      code: 'fonts-missing',
      where: 'the sheet',
      problem: 'its fonts could not be fetched',
      remedy: 'check the network and try again',
    });
  }
  return new Uint8Array(await answer.arrayBuffer());
}
