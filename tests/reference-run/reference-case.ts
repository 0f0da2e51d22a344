import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';

/** How far apart two numbers may lie: |got - expected| <= abs + rel |expected|. */
const tolerance = z.object({ rel: z.number().nonnegative(), abs: z.number().nonnegative() });
export type Tolerance = z.infer<typeof tolerance>;

/** Named values; where there are none, the cases may write an empty list. */
const named = z.union([
  z.tuple([]).transform((): Record<string, unknown> => ({})),
  z.record(z.string(), z.unknown()),
]);

const referenceCase = z.looseObject({
  id: z.string(),
  method: z.string(),
  params: named,
  data: named,
  expected: named,
  tolerance,
});

/** One case as its file states it; an adapter checks `params` and `data` for what its method needs. */
export type ReferenceCase = z.infer<typeof referenceCase>;

export type FoundCase =
  | { readonly kind: 'case'; readonly name: string; readonly one: ReferenceCase }
  | { readonly kind: 'unreadable'; readonly name: string; readonly reason: string };

/** The cases directly in a folder: JSON objects with `id` and `method`. Other JSON files are no cases. */
export function readCases(folder: string): FoundCase[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => !entry.isDirectory() && entry.name.endsWith('.json'))
    .map((entry) => entry.name)
    .sort()
    .flatMap((name) => readCase(name, readFileSync(join(folder, name), 'utf8')));
}

/** The case in a file's text, why it cannot be read, or nothing where there is no case. */
export function readCase(name: string, text: string): FoundCase[] {
  let content: unknown;
  try {
    content = JSON.parse(text);
  } catch (error) {
    return [{ kind: 'unreadable', name, reason: `no JSON: ${String(error)}` }];
  }
  if (typeof content !== 'object' || content === null || !('id' in content && 'method' in content)) return [];
  const parsed = referenceCase.safeParse(content);
  return parsed.success
    ? [{ kind: 'case', name, one: parsed.data }]
    : [{ kind: 'unreadable', name, reason: z.prettifyError(parsed.error) }];
}
