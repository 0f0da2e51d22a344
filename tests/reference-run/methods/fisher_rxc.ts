import { z } from 'zod';
import { testFisherExactTable } from '@/lib/statistics';

const shape = z.object({ table: z.array(z.array(z.number())) });

export function answer(one: { readonly data: unknown }): unknown {
  const test = testFisherExactTable(shape.parse(one.data).table);
  return test.kind === 'tested' ? { p: test.pValue } : { reason: test.reason };
}
