import { kinds, type Kind } from '../../../../../lib/plan/schema';
import { replaced, type SelectorDocument } from './own-rules';

export type ConditionDocument = NonNullable<SelectorDocument['where']>[string];

/** A property of a kind of feature that a rule can be about. */
export interface ConditionProperty {
  readonly name: string;
  readonly label: string;
  /** Of which values: some of a list, yes or no, text, or a range of lengths or other numbers. */
  readonly type: 'choice' | 'yes-no' | 'text' | 'length' | 'number';
  /** The values of a choice; empty for the others. */
  readonly choices: readonly string[];
}

/** What the schema library holds of a property's schema. */
interface PropertySchema {
  readonly type: string;
  readonly wrapped?: PropertySchema;
  readonly options?: readonly unknown[];
  readonly literal?: unknown;
}

const labels: Readonly<Record<string, string>> = {
  own: 'own lot',
  side: 'whose side of the meter',
  in_elevation: 'shown by the elevation',
};

/** The properties of a kind on which conditions can be set, as the plan's schema has them; its name is none. */
export function conditionProperties(kind: Kind): ConditionProperty[] {
  const entries: Readonly<Record<string, PropertySchema>> = kinds[kind].entries.properties.entries;
  return Object.entries(entries).flatMap(([name, schema]) => {
    if (name === 'kind' || name === 'name') return [];
    const property = propertyOf(name, schema.wrapped ?? schema);
    return property === null ? [] : [property];
  });
}

function propertyOf(name: string, schema: PropertySchema): ConditionProperty | null {
  const label = labels[name] ?? name.replace(/_(m|m3|deg|mm)$/, '').replaceAll('_', ' ');
  const about = { name, label, choices: [] };
  switch (schema.type) {
    case 'picklist':
      return { ...about, type: 'choice', choices: (schema.options ?? []).map(String) };
    case 'literal':
      return { ...about, type: 'choice', choices: [String(schema.literal)] };
    case 'boolean':
      return { ...about, type: 'yes-no' };
    case 'number':
      return { ...about, type: name.endsWith('_m') ? 'length' : 'number' };
    case 'string':
      return { ...about, type: 'text' };
    default:
      return null;
  }
}

/** A property that a condition names: as the schema has it, else as the condition itself suggests. */
export function propertyNamed(
  kind: Kind,
  name: string,
  condition: ConditionDocument,
): ConditionProperty {
  const known = conditionProperties(kind).find((each) => each.name === name);
  const isRange = !Array.isArray(condition);
  // A range of something that is no number, or the other way round, is shown as it stands.
  if (known !== undefined && isRange === (known.type === 'length' || known.type === 'number')) {
    return known;
  }
  const label = known?.label ?? name.replaceAll('_', ' ');
  return { name, label, type: isRange ? 'number' : 'text', choices: [] };
}

/** A first condition on a property, to be changed. */
export function firstCondition({ type, choices }: ConditionProperty): ConditionDocument {
  switch (type) {
    case 'choice':
      return choices.slice(0, 1);
    case 'yes-no':
      return [true];
    case 'text':
      return ['name it'];
    case 'length':
    case 'number':
      return { at_least: 0 };
  }
}

/** A selector with a condition on a property, or without; what absence means goes with the last. */
export function withCondition(
  selector: SelectorDocument,
  name: string,
  condition: ConditionDocument | undefined,
): SelectorDocument {
  const where = replaced(selector.where ?? {}, name, condition);
  if (Object.keys(where).length > 0) return { ...selector, where };
  return replaced(replaced(selector, 'where', undefined), 'absent', undefined);
}

/** Text as a list of values; words that JSON has for truth are that. */
export function valuesOf(text: string): (string | boolean)[] {
  return text
    .split(',')
    .map((value) => value.trim())
    .filter((value) => value !== '')
    .map((value) => (value === 'true' ? true : value === 'false' ? false : value));
}
