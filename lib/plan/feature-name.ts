/** What is needed of a feature to call it something. */
interface Called {
  readonly id: string;
  readonly properties: { readonly kind: string; readonly name?: string | undefined };
}

/** Letters and numbers that no person would give as a name: 16 or more without a break, or hexadecimal groups. */
const MADE_BY_MACHINE = /[\p{L}\p{N}]{16,}|[0-9a-f]{8}-[0-9a-f]{4}-/iu;

/**
 * What a feature is called wherever people read of it: its name, else its id in words (`downspout-3` is downspout 3), else,
 * where a machine made the id, its kind.
 */
export function featureName({ id, properties: { name, kind } }: Called): string {
  if (name !== undefined) return name;
  const words = id.replace(/[-_\s]+/g, ' ').trim();
  const ofKind = kind.replaceAll('-', ' ');
  if (words === '' || MADE_BY_MACHINE.test(id)) return `${ofKind} without a name`;
  return /^\d+$/.test(words) ? `${ofKind} ${words}` : words;
}

/** The same for a feature of a list that is known by its id; the id itself where the list has none such. */
export function nameById(features: readonly Called[], id: string): string {
  const found = features.find((feature) => feature.id === id);
  return found === undefined ? id : featureName(found);
}
