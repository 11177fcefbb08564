/** Names of months as people write them, the short ones that a calendar heads its columns with. */
export const monthNames = [
  'Jan',
  'Feb',
  'Mar',
  'Apr',
  'May',
  'Jun',
  'Jul',
  'Aug',
  'Sep',
  'Oct',
  'Nov',
  'Dec',
] as const;

/** A month by its name in English, short or whole, or by its number; `null` when it is none. */
export function monthNumber(text: string): number | null {
  const written = text.trim().toLowerCase();
  if (/^\d\d?$/.test(written)) {
    const month = Number(written);
    return month >= 1 && month <= 12 ? month : null;
  }
  if (written.length < 3) return null;
  const at = monthNames.findIndex((name) => written.startsWith(name.toLowerCase()));
  return at === -1 ? null : at + 1;
}
