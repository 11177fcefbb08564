/**
 * Lines up rows for people: columns as wide as their widest cell, two spaces apart; the last is not padded.
 *
 * @param align - 'r' for columns of figures.
 */
export function table(rows: readonly (readonly string[])[], align = ''): string {
  const widths: number[] = [];
  for (const row of rows) {
    row.forEach((cell, i) => {
      widths[i] = Math.max(widths[i] ?? 0, cell.length);
    });
  }
  return rows
    .map((row) =>
      row
        .map((cell, i) => {
          if (align[i] === 'r') return cell.padStart(widths[i]);
          return i === row.length - 1 ? cell : cell.padEnd(widths[i]);
        })
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}
