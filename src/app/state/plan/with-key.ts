/** A copy of an object with one key set, or taken away when the value is `undefined`. */
export function withKey<T extends object, K extends keyof T>(
  object: T,
  key: K,
  value: T[K] | undefined,
): T {
  const copy = { ...object };
  if (value === undefined) Reflect.deleteProperty(copy, key);
  else copy[key] = value;
  return copy;
}
