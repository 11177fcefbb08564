import * as v from 'valibot';
import { kindNames } from '../../../../lib/plan/schema';
import type { KeptWork } from '../session/kept-work';

/** The elevation of a kept work: an address, or a file that is kept beside it under a key. */
const elevation = v.union([
  v.object({ name: v.string(), url: v.string() }),
  v.object({ name: v.string(), key: v.string() }),
]);

const place = v.tuple([v.number(), v.number()]);
const drawing = v.object({
  kind: v.picklist(kindNames),
  corners: v.array(place),
  preset: v.optional(v.record(v.string(), v.union([v.string(), v.number(), v.boolean()]))),
  onto: v.optional(v.object({ does: v.picklist(['split', 'hole']), id: v.string() })),
  outline: v.nullable(
    v.object({
      form: v.picklist(['round', 'oval', 'kidney', 'teardrop']),
      lengthM: v.number(),
      widthM: v.number(),
      turnRad: v.number(),
      centre: v.nullable(place),
    }),
  ),
});

/** A kept work as the browser's store holds it. */
const record = v.object({
  id: v.string(),
  plan: v.string(),
  title: v.nullable(v.string()),
  at: v.pipe(v.string(), v.isoTimestamp()),
  elevation: v.fallback(v.nullable(elevation), null),
  // A beginning that cannot be read must not take the plan with it.
  drawing: v.fallback(v.nullable(drawing), null),
  aside: v.fallback(v.optional(v.array(drawing), []), []),
});

export interface KeptRecord extends Omit<KeptWork, 'elevation'> {
  readonly elevation: v.InferOutput<typeof elevation> | null;
}

/** A record as it was written; null for one that cannot be read. */
export function readRecord(value: unknown): KeptRecord | null {
  const read = v.safeParse(record, value);
  return read.success ? read.output : null;
}
