import type { Fonts } from '../drawing/fonts';
import type { Face, Sheet, SheetPage } from '../drawing/mark';
import { base64, escaped, faceStyles, pageSvg } from './svg';
import { woffOf } from './woff';

const faces: readonly Face[] = ['text', 'text-bold', 'label', 'label-bold'];

/** The fonts as styles that bring them along. */
function fontStyles(fonts: Fonts): string {
  return faces
    .map((face) => {
      const { family, weight } = faceStyles[face];
      const data = base64(woffOf(fonts.files[face]));
      return `@font-face{font-family:"${family}";font-weight:${weight};src:url(data:font/woff;base64,${data}) format("woff")}`;
    })
    .join('\n');
}

/** One page as an SVG file that needs nothing beside it. */
export function standAloneSvg(page: SheetPage, fonts: Fonts): string {
  return pageSvg(page, fonts, `<style>${fontStyles(fonts)}</style>`);
}

/**
 * The sheet as one HTML file without outside parts: every page as a drawing, what the pages lack in words before them, and
 * printed one page to a paper. It carries a policy that lets nothing be fetched or run.
 */
export function sheetHtml(sheet: Sheet, fonts: Fonts): string {
  const [first] = sheet.pages;
  const missing = sheet.pages.flatMap(({ title, missing: lacks }) =>
    lacks.map((lack) => `<li>${escaped(title)}: ${escaped(lack)}</li>`),
  );
  const pages = sheet.pages.map((page) => `<section>${pageSvg(page, fonts)}</section>`).join('\n');
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(sheet.title)}, ${escaped(sheet.date)}</title>
<style>
${fontStyles(fonts)}
@page{size:${first.widthMm}mm ${first.heightMm}mm;margin:0}
body{margin:0;background:#d9dcde;font:16px "Source Sans 3",sans-serif;color:#15222e}
header{max-width:60rem;margin:0 auto;padding:1rem}
section{margin:1rem auto;max-width:${first.widthMm}mm;background:#fff}
section svg{display:block;width:100%;height:auto}
@media print{body{background:#fff}header{display:none}section{margin:0;max-width:none;break-after:page}section:last-child{break-after:auto}section svg{width:${first.widthMm}mm;height:${first.heightMm}mm}}
</style>
</head>
<body>
<header><h1>${escaped(sheet.title)}</h1>${missing.length === 0 ? '' : `<p>What the sheet lacks:</p><ul>${missing.join('')}</ul>`}</header>
${pages}
</body>
</html>
`;
}
