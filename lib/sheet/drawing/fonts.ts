import { create, type Font } from 'fontkit';
import type { Face } from './mark';

/** The bytes of the four fonts, TrueType. */
export type FontFiles = Readonly<Record<Face, Uint8Array>>;

/** Letters of one face in a row. */
export interface FacedRun {
  readonly face: Face;
  readonly text: string;
  /** In units of the size of the letters. */
  readonly width: number;
}

/** Where a label's face has no sign, the text's face of the same weight may. */
const instead: Readonly<Record<Face, Face>> = {
  text: 'text',
  'text-bold': 'text-bold',
  label: 'text',
  'label-bold': 'text-bold',
};
/** Signs that look alike, of which the fonts have the second. */
const alike: ReadonlyMap<string, string> = new Map([
  ['✕', '✗'],
  ['⌀', 'Ø'],
]);
/** Stands for a sign that no font has. */
const unknownSign = '□';

/**
 * What letters measure, from the same fonts that are embedded: page, command and paper agree to the last digit.
 *
 * Advances alone are added up; pairs are not kerned, here or by any writer.
 */
export class Fonts {
  readonly files: FontFiles;
  readonly #fonts: Readonly<Record<Face, Font>>;
  readonly #runs = new Map<string, readonly FacedRun[]>();
  readonly #strange = new Set<string>();

  /** @param files - TrueType bytes; not modified. */
  constructor(files: FontFiles) {
    this.files = files;
    this.#fonts = {
      text: open(files.text),
      'text-bold': open(files['text-bold']),
      label: open(files.label),
      'label-bold': open(files['label-bold']),
    };
  }

  /** Signs that were asked for and that no font has; they are drawn as boxes. */
  get strange(): readonly string[] {
    return [...this.#strange].sort();
  }

  /**
   * A face as the PDF library takes fonts, setting letters one after the other as they are measured here: neither pairs nor
   * ligatures, which also cost most of the time.
   */
  plain(face: Face): Font {
    const font = this.#fonts[face];
    return Object.create(font, {
      layout: {
        value: (text: string) => {
          const glyphs = Array.from(text, (sign) =>
            font.glyphForCodePoint(sign.codePointAt(0) ?? 0),
          );
          const positions = glyphs.map(({ advanceWidth }) => ({
            xAdvance: advanceWidth,
            yAdvance: 0,
            xOffset: 0,
            yOffset: 0,
          }));
          const advanceWidth = glyphs.reduce((sum, glyph) => sum + glyph.advanceWidth, 0);
          return { glyphs, positions, advanceWidth };
        },
      },
    }) as Font;
  }

  /** Width of a line of letters, millimetres. */
  widthMm(text: string, face: Face, sizeMm: number): number {
    return this.runs(text, face).reduce((sum, run) => sum + run.width, 0) * sizeMm;
  }

  /** A text cut where its letters have to come from another face. */
  runs(text: string, face: Face): readonly FacedRun[] {
    const key = `${face} ${text}`;
    const known = this.#runs.get(key);
    if (known !== undefined) return known;
    const runs: { face: Face; text: string; width: number }[] = [];
    for (const asked of text) {
      const [of, sign] = this.#faceOf(asked, face);
      const font = this.#fonts[of];
      const width = font.glyphForCodePoint(sign.codePointAt(0) ?? 0).advanceWidth / font.unitsPerEm;
      const last = runs.at(-1);
      if (last?.face === of) {
        last.text += sign;
        last.width += width;
      } else runs.push({ face: of, text: sign, width });
    }
    this.#runs.set(key, runs);
    return runs;
  }

  #faceOf(asked: string, face: Face): readonly [Face, string] {
    const sign = alike.get(asked) ?? asked;
    const code = sign.codePointAt(0) ?? 0;
    // Line breaks and tabs in a name are a space on a drawing.
    if (code < 32) return [face, ' '];
    if (this.#fonts[face].hasGlyphForCodePoint(code)) return [face, sign];
    const other = instead[face];
    if (this.#fonts[other].hasGlyphForCodePoint(code)) return [other, sign];
    this.#strange.add(sign);
    return [other, unknownSign];
  }
}

function open(bytes: Uint8Array): Font {
  // The types ask for Node's own bytes; any will do.
  const font = create(bytes as Parameters<typeof create>[0]);
  if ('fonts' in font) throw new TypeError('a collection of fonts where one was expected');
  return font;
}
