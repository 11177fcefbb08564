/** Where a figure comes from and how well it is known: stands beside every published number, and is shown with it. */
import * as v from 'valibot';

/**
 * How well a figure is known: read in the source, read in a copy of it, a rule of thumb, remembered, or chosen by us. The
 * only words for it, in comments too.
 */
const mark = v.picklist([
  'seen',
  'seen in a secondary copy',
  'common practice, no source',
  'from memory',
  'our choice, no source',
]);

export const source = v.object({
  title: v.string(),
  publisher: v.string(),
  /** Year of publication, `null` for an undated page. */
  year: v.nullable(v.number()),
  section: v.optional(v.string()),
  mark,
});

export type Source = v.InferOutput<typeof source>;

/** The source of a rule of thumb. */
export const practice: Source = {
  title: 'Common practice',
  publisher: 'none',
  year: null,
  mark: 'common practice, no source',
};

/** The source of what we chose ourselves. */
export const ourChoice: Source = {
  title: 'Our choice',
  publisher: 'none',
  year: null,
  mark: 'our choice, no source',
};

/** A source in one line, its mark at the end; a mark that names no source stands alone. */
export function sourceLine({ title, publisher, year, section, mark }: Source): string {
  if (mark === practice.mark || mark === ourChoice.mark) return mark;
  const parts = [title, publisher === 'none' ? undefined : publisher, year ?? 'undated', section];
  return `${parts.filter((part) => part !== undefined).join(', ')} (${mark})`;
}
