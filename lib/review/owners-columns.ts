import type { FoundLayer } from '../gather/found-layer';
import { wordsOf } from '../gather/words-of';

/** What columns about people are called. Our choice of words that parcel files use. */
const aboutOwners =
  /owner|\bown(s|ed)?\b|taxpayer|\bmail(ing)?\b|grantee|grantor|deed|phone|e ?mail|resident|tenant|occupant|lessee/;

/** A layer without its columns about owners, and what those were called. Nothing of them is kept. */
export function ownersColumns(layer: FoundLayer): {
  readonly layer: FoundLayer;
  readonly dropped: readonly string[];
} {
  const dropped = layer.columns
    .map(({ name }) => name)
    .filter((name) => aboutOwners.test(wordsOf(name)));
  if (dropped.length === 0) return { layer, dropped };
  const gone = new Set(dropped);
  return {
    dropped,
    layer: {
      ...layer,
      columns: layer.columns.filter(({ name }) => !gone.has(name)),
      shapes: layer.shapes.map((shape) => ({
        ...shape,
        properties: Object.fromEntries(
          Object.entries(shape.properties).filter(([name]) => !gone.has(name)),
        ),
      })),
    },
  };
}
