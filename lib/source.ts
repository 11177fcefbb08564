/** Where a figure comes from and how well it is known: stands beside every published number, and is shown with it. */
import * as v from 'valibot';

/** How well a figure is known: read in the source, read in a copy of it, a rule of thumb, or remembered. */
const mark = v.picklist([
  'seen',
  'seen in a secondary copy',
  'common practice, no source',
  'from memory',
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
