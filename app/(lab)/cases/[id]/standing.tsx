import { CaseStanding } from '@/components/registry/case-standing';
import { markAsEntered, signForCase } from './actions';
import type { loadCase } from './load';

type Loaded = Pick<Awaited<ReturnType<typeof loadCase>>, 'head' | 'may' | 'standing'>;

/** The state of the case in the margin of each of its parts. */
export function Standing({ head, may, standing }: Loaded) {
  return (
    <CaseStanding
      caseId={head.id}
      standing={standing}
      onEnter={may.procedure ? markAsEntered.bind(null, head.id) : null}
      onSign={may.sign ? signForCase.bind(null, head.id) : null}
    />
  );
}
