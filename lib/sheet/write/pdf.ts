import type { Fonts } from '../drawing/fonts';
import {
  pointMm,
  type Face,
  type Mark,
  type Pen,
  type Sheet,
  type TextMark,
} from '../drawing/mark';
import { mm, pathOf, startOf } from './svg';

const faces: readonly Face[] = ['text', 'text-bold', 'label', 'label-bold'];

/**
 * A sheet as PDF: vector lines, letters that can be selected from fonts that are embedded, pages of the true size.
 *
 * The same sheet gives the same bytes on one platform: its date is the sheet's, and nothing is read from clock or chance.
 *
 * Cost: about 0.1 s a page; the library is loaded on first use.
 */
export async function sheetPdf(sheet: Sheet, fonts: Fonts): Promise<Uint8Array> {
  const { default: PDFDocument } = await import('pdfkit');
  const day = new Date(`${sheet.date}T00:00:00Z`);
  const document = new PDFDocument({
    autoFirstPage: false,
    // Left out by the types: without it a standard font is looked for on the disk.
    ...({ font: null } as object),
    compress: true,
    lang: 'en',
    info: {
      Title: sheet.title,
      Producer: 'Lotfall',
      Creator: 'Lotfall',
      CreationDate: day,
      ModDate: day,
    },
  });
  const chunks: Uint8Array[] = [];
  document.on('data', (chunk: Uint8Array) => chunks.push(chunk));
  const ended = new Promise<void>((resolve, reject) => {
    document.on('end', resolve);
    document.on('error', reject);
  });
  for (const face of faces) {
    // It takes opened fonts too, which its types do not know.
    document.registerFont(face, fonts.plain(face) as unknown as PDFKit.Mixins.PDFFontSource);
  }
  const writer = new PdfWriter(document, fonts);
  for (const page of sheet.pages) {
    document.addPage({ size: [page.widthMm / pointMm, page.heightMm / pointMm], margin: 0 });
    document.save();
    document.scale(1 / pointMm);
    for (const mark of page.marks) writer.write(mark);
    document.restore();
  }
  document.end();
  await ended;
  return joined(chunks);
}

class PdfWriter {
  readonly #document: PDFKit.PDFDocument;
  readonly #fonts: Fonts;

  constructor(document: PDFKit.PDFDocument, fonts: Fonts) {
    this.#document = document;
    this.#fonts = fonts;
  }

  write(mark: Mark): void {
    const document = this.#document;
    switch (mark.kind) {
      case 'lines':
        document.path(pathOf(mark.runs, false));
        this.#paint(undefined, mark.pen);
        return;
      case 'area':
        document.path(pathOf(mark.rings, true));
        this.#paint(mark.fill, mark.pen);
        return;
      case 'circles':
        for (const [x, y] of mark.centres) document.circle(rounded(x), rounded(y), mark.radiusMm);
        if (mark.centres.length > 0) this.#paint(mark.fill, mark.pen);
        return;
      case 'text':
        this.#text(mark);
        return;
      case 'picture': {
        const { x, y, width, height } = mark.rect;
        // What it takes for bytes are Node's own, which the browser's build has too.
        document.image(mark.png as PDFKit.Mixins.ImageSrc, x, y, { width, height });
        return;
      }
      case 'clipped':
        document.save();
        document.path(pathOf(mark.outline, true)).clip('even-odd');
        for (const each of mark.marks) this.write(each);
        document.restore();
    }
  }

  #paint(fill: string | undefined, pen: Pen | undefined): void {
    const document = this.#document;
    if (pen !== undefined) {
      document.lineWidth(pen.widthMm).lineJoin('round');
      if (pen.dashMm === undefined) document.undash();
      // It takes lists too, which its types do not know.
      else document.dash([...pen.dashMm] as unknown as number, {});
    }
    if (fill !== undefined && pen !== undefined) document.fillAndStroke(fill, pen.ink, 'even-odd');
    else if (fill !== undefined) document.fill(fill, 'even-odd');
    else if (pen !== undefined) document.stroke(pen.ink);
  }

  #text({ at, text, face, sizeMm, ink, turnDeg, ...rest }: TextMark): void {
    const document = this.#document;
    if (turnDeg !== 0) {
      document.save();
      document.rotate(turnDeg, { origin: [at[0], at[1]] });
    }
    let x = at[0] - startOf(rest);
    document.fillColor(ink);
    for (const run of this.#fonts.runs(text, face)) {
      document.font(run.face).fontSize(sizeMm);
      document.text(run.text, rounded(x), rounded(at[1]), {
        lineBreak: false,
        baseline: 'alphabetic',
      });
      x += run.width * sizeMm;
    }
    if (turnDeg !== 0) document.restore();
  }
}

function rounded(value: number): number {
  return Number(mm(value));
}

function joined(chunks: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(chunks.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const chunk of chunks) {
    all.set(chunk, at);
    at += chunk.length;
  }
  return all;
}
