/** Rows as CSV (RFC 4180): lines end in CR LF, cells that need it are quoted. */
export function csv(rows: readonly (readonly string[])[]): string {
  return rows.map((cells) => cells.map(quoted).join(',')).join('\r\n') + '\r\n';
}

/** A leading formula sign is defused, so that a spreadsheet shows a name as it is. */
function quoted(cell: string): string {
  const formula = /^[=+@\t\r]/.test(cell) || /^-(?![\d.]+$)/.test(cell);
  const safe = formula ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
