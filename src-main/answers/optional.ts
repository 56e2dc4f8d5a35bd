/** The key with its value, or nothing at all: an absent field and an undefined one are not the same in an entry. */
export function optional<K extends string, V>(key: K, value: V | undefined): Partial<Record<K, V>> {
  return value === undefined ? {} : ({ [key]: value } as Partial<Record<K, V>>);
}
