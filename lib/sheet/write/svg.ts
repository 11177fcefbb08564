import type { Fonts } from '../drawing/fonts';
import type { Face, Mark, Pen, Run, SheetPage, TextMark } from '../drawing/mark';

/** How a face is named where letters are styled. */
export const faceStyles: Readonly<Record<Face, { family: string; weight: number }>> = {
  text: { family: 'Source Sans 3', weight: 400 },
  'text-bold': { family: 'Source Sans 3', weight: 600 },
  label: { family: 'Barlow Semi Condensed', weight: 500 },
  'label-bold': { family: 'Barlow Semi Condensed', weight: 600 },
};

/**
 * A page as SVG in millimetres. Attributes only, no styles, so that it may be put into any page whatever its policy.
 *
 * @param defs - put into `<defs>` as it is: the fonts of a file that has to stand alone.
 */
export function pageSvg(page: SheetPage, fonts: Fonts, defs = ''): string {
  const { widthMm, heightMm } = page;
  const writer = new SvgWriter(fonts, page.name);
  const body = page.marks.map((mark) => writer.write(mark)).join('\n');
  const size = `width="${widthMm}mm" height="${heightMm}mm" viewBox="0 0 ${widthMm} ${heightMm}"`;
  return `<svg xmlns="http://www.w3.org/2000/svg" ${size} role="img" aria-label="${escaped(page.title)}">
${defs === '' ? '' : `<defs>${defs}</defs>\n`}<rect width="${widthMm}" height="${heightMm}" fill="#ffffff"/>
${body}
</svg>
`;
}

/** Text for markup: a name on a plan must not become an element. Control characters, which XML forbids, go. */
export function escaped(text: string): string {
  return text
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/[^\P{Cc}\n]/gu, ' ');
}

/** Thousandths of a millimetre: finer than any printer. */
export function mm(value: number): string {
  const rounded = Math.round(value * 1000) / 1000;
  return String(rounded === 0 ? 0 : rounded);
}

/** The path of runs, in the form that SVG and PDF share. */
export function pathOf(runs: readonly Run[], isClosed: boolean): string {
  return runs
    .filter((run) => run.length > 1)
    .map((run) => {
      const points = run.map(([x, y]) => `${mm(x)} ${mm(y)}`).join('L');
      return `M${points}${isClosed ? 'Z' : ''}`;
    })
    .join('');
}

class SvgWriter {
  readonly #fonts: Fonts;
  readonly #prefix: string;
  #clips = 0;

  constructor(fonts: Fonts, prefix: string) {
    this.#fonts = fonts;
    this.#prefix = prefix;
  }

  write(mark: Mark): string {
    switch (mark.kind) {
      case 'lines':
        return `<path d="${pathOf(mark.runs, false)}" fill="none"${penOf(mark.pen)}/>`;
      case 'area': {
        const fill = `fill="${mark.fill ?? 'none'}" fill-rule="evenodd"`;
        return `<path d="${pathOf(mark.rings, true)}" ${fill}${penOf(mark.pen)}/>`;
      }
      case 'circles': {
        const look = `fill="${mark.fill ?? 'none'}"${penOf(mark.pen)}`;
        const circles = mark.centres.map(
          ([x, y]) => `<circle cx="${mm(x)}" cy="${mm(y)}" r="${mm(mark.radiusMm)}"/>`,
        );
        return `<g ${look}>${circles.join('')}</g>`;
      }
      case 'text':
        return this.#text(mark);
      case 'picture': {
        const { x, y, width, height } = mark.rect;
        const place = `x="${mm(x)}" y="${mm(y)}" width="${mm(width)}" height="${mm(height)}"`;
        return `<image ${place} preserveAspectRatio="none" href="data:image/png;base64,${base64(mark.png)}"/>`;
      }
      case 'clipped': {
        const id = `${this.#prefix}-clip-${++this.#clips}`;
        const inside = mark.marks.map((each) => this.write(each)).join('\n');
        return `<clipPath id="${id}"><path d="${pathOf(mark.outline, true)}" clip-rule="evenodd"/></clipPath><g clip-path="url(#${id})">${inside}</g>`;
      }
    }
  }

  #text({ at, text, face, sizeMm, ink, turnDeg, ...rest }: TextMark): string {
    const turn =
      turnDeg === 0 ? '' : ` transform="rotate(${mm(turnDeg)} ${mm(at[0])} ${mm(at[1])})"`;
    let x = at[0] - startOf({ ...rest });
    const parts = this.#fonts.runs(text, face).map((run) => {
      const { family, weight } = faceStyles[run.face];
      const widthMm = run.width * sizeMm;
      const part = `<text x="${mm(x)}" y="${mm(at[1])}" font-family="${family}" font-weight="${weight}" font-size="${mm(sizeMm)}" fill="${ink}" textLength="${mm(widthMm)}" xml:space="preserve"${turn}>${escaped(run.text)}</text>`;
      x += widthMm;
      return part;
    });
    return parts.join('');
  }
}

/** How far before its place a line of letters begins. */
export function startOf({ align, widthMm }: Pick<TextMark, 'align' | 'widthMm'>): number {
  return align === 'start' ? 0 : align === 'middle' ? widthMm / 2 : widthMm;
}

function penOf(pen: Pen | undefined): string {
  if (pen === undefined) return '';
  const dash =
    pen.dashMm === undefined ? '' : ` stroke-dasharray="${pen.dashMm.map(mm).join(' ')}"`;
  return ` stroke="${pen.ink}" stroke-width="${mm(pen.widthMm)}" stroke-linejoin="round"${dash}`;
}

const signs = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

/** Bytes in the 64 signs that addresses of data take. */
export function base64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const [a, b, c] = [bytes[i], bytes[i + 1] ?? 0, bytes[i + 2] ?? 0];
    const three = (a << 16) | (b << 8) | c;
    const left = bytes.length - i;
    text += signs[three >> 18] + signs[(three >> 12) & 63];
    text += left > 1 ? signs[(three >> 6) & 63] : '=';
    text += left > 2 ? signs[three & 63] : '=';
  }
  return text;
}
