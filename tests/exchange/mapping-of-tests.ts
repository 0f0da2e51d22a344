import { EXAMPLE_MAPPING, parseRhythmMapping, type RhythmMapping } from '@/lib/exchange/rhythm-mapping';

type Changes = Readonly<Record<string, unknown>>;

/** The example mapping as an object, with some parts replaced (undefined takes a part away). */
export function mappingObject(changes: Changes = {}): Record<string, unknown> {
  const merged: Record<string, unknown> = { ...JSON.parse(EXAMPLE_MAPPING), ...changes };
  return Object.fromEntries(Object.entries(merged).filter(([, value]) => value !== undefined));
}

/** The mapping that the example becomes; throws with the findings when it is refused. */
export function mappingOf(changes: Changes = {}): RhythmMapping {
  const parsed = parseRhythmMapping(JSON.stringify(mappingObject(changes)));
  if (parsed.kind === 'mapping') return parsed.mapping;
  throw new Error(parsed.findings.map(({ field, message }) => `${field}: ${message}`).join('\n'));
}
