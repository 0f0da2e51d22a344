import 'server-only';
import { z } from 'zod';
import { requireActor } from '@/app/require-actor';
import { isAllowed } from '@/lib/access/permissions';
import {
  type CaseFilter,
  type CaseListRow,
  readCaseList,
  readPatientsWithoutCase,
} from '@/lib/records/cases/list';
import { type OperatorChoice, readOperators } from '@/lib/records/labs/operators';
import { AF_TYPES, codesOf, STRATEGIES } from '@/lib/registry/vocabulary';

const PAGE = 50;

/** Filters of the register as they stand in the address; what cannot be read is left out. Never a patient code. */
const querySchema = z.object({
  afType: z.enum(codesOf(AF_TYPES)).optional().catch(undefined),
  strategy: z.enum(codesOf(STRATEGIES)).optional().catch(undefined),
  operator: z
    .string()
    .regex(/^[A-Za-z0-9-]{1,20}$/)
    .optional()
    .catch(undefined),
  year: z.coerce.number().int().min(1950).max(2199).optional().catch(undefined),
  sequence: z.enum(['first', 'repeat']).optional().catch(undefined),
  page: z.coerce.number().int().min(1).max(100_000).catch(1),
});
export type CaseQuery = z.infer<typeof querySchema>;

export interface CasesPage {
  readonly query: CaseQuery;
  readonly rows: readonly CaseListRow[];
  readonly total: number;
  readonly from: number;
  readonly hasNext: boolean;
  readonly operators: readonly OperatorChoice[];
  readonly withoutCase: readonly { id: string; code: string }[];
  readonly mayRegister: boolean;
}

/** One screenful of the register under the filters of the address. */
export async function loadCases(params: Record<string, string | string[] | undefined>): Promise<CasesPage> {
  const actor = await requireActor('cases.read');
  const given = Object.fromEntries(Object.entries(params).filter(([, value]) => value !== ''));
  const query = querySchema.parse(given);
  const skip = (query.page - 1) * PAGE;
  const [{ total, rows }, operators, withoutCase] = await Promise.all([
    readCaseList(actor, filterOf(query), skip, PAGE),
    readOperators(actor),
    readPatientsWithoutCase(actor),
  ]);
  const mayRegister = isAllowed(actor.role, 'patient.write');
  return {
    query,
    rows,
    total,
    from: skip + 1,
    hasNext: skip + rows.length < total,
    operators,
    withoutCase,
    mayRegister,
  };
}

function filterOf({ afType, strategy, operator, year, sequence }: CaseQuery): CaseFilter {
  return {
    ...(afType ? { afType } : {}),
    ...(strategy ? { strategy } : {}),
    ...(operator ? { operatorCode: operator } : {}),
    ...(year ? { year } : {}),
    ...(sequence ? { sequence } : {}),
  };
}
