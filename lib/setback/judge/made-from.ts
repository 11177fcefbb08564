import { sha256Of } from '../../checksum';
import type { ElevationIdentity } from '../../elevation/file/elevation-identity';
import { programVersion } from '../../version';
import type { RuleSet } from '../rules/rule';

/** What a result was made from, so that it can be told which files it belongs to. Field names are those of the JSON output. */
export interface MadeFrom {
  readonly program: 'lotfall';
  readonly version: string;
  readonly plan: {
    readonly file: string;
    /** Of the plan's bytes. */
    readonly sha256: string;
  };
  /** `null` where the result rests on no raster. */
  readonly elevation: {
    readonly file: string;
    readonly size_bytes: number | null;
    /** The checksum that plans keep of their raster; `null` where not all of its bytes are at hand. */
    readonly crc32: string | null;
  } | null;
  readonly rule_set: RuleSetMark;
}

/** A rule set by name and content. */
export interface RuleSetMark {
  readonly id: string;
  readonly title: string;
  readonly jurisdiction: string;
  /** Of the set as it was read: two sets that ask the same in the same words have the same, wherever they were kept. */
  readonly sha256: string;
}

/** The marks of a plan's bytes, of a raster and of a rule set. */
export function madeFrom(
  plan: { readonly file: string; readonly sha256: string },
  elevation: ElevationIdentity | null,
  ruleSet: RuleSet,
): MadeFrom {
  return {
    program: 'lotfall',
    version: programVersion,
    plan: { file: plan.file, sha256: plan.sha256 },
    elevation:
      elevation === null
        ? null
        : {
            file: elevation.name,
            size_bytes: elevation.sizeBytes,
            crc32: elevation.crc32,
          },
    rule_set: ruleSetMark(ruleSet),
  };
}

const marks = new WeakMap<RuleSet, RuleSetMark>();

function ruleSetMark(set: RuleSet): RuleSetMark {
  let mark = marks.get(set);
  if (mark === undefined) {
    const { id, title, jurisdiction } = set;
    mark = { id, title, jurisdiction, sha256: sha256Of(JSON.stringify(set)) };
    marks.set(set, mark);
  }
  return mark;
}
