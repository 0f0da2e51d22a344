'use client';

import { useWatch } from 'react-hook-form';
import { ChoiceField } from '@/components/forms/choice-field';
import { FieldGroup } from '@/components/forms/field-group';
import { RecordForm } from '@/components/forms/record-form';
import type { DraftKeeping } from '@/components/forms/use-draft';
import { VERDICTS } from '@/lib/registry/complication-vocabulary';
import {
  type AdjudicationContext,
  type AdjudicationInput,
  adjudicationSchema,
  checkAdjudication,
} from '@/lib/registry/forms/adjudication-form';
import { ADJUDICATION_LABELS as LABELS } from '@/lib/registry/forms/field-labels';
import type { WriteInput, WriteResult } from '@/lib/registry/write-result';
import { AmendmentReason } from './amendment-reason';
import { FactsFields } from './complication-fields';
import { wordsForHarm } from './complication-words';

interface AdjudicationFormProps {
  readonly action: (input: WriteInput<AdjudicationInput>) => Promise<WriteResult>;
  readonly values: AdjudicationInput;
  readonly context: AdjudicationContext;
  readonly cancelHref: string;
  readonly draft: DraftKeeping;
}

/** The second person's verdict. What was reported is not touched by it. */
export function AdjudicationForm({ action, values, context, cancelHref, draft }: AdjudicationFormProps) {
  return (
    <RecordForm
      label="Adjudication"
      schema={adjudicationSchema}
      defaultValues={values}
      action={action}
      draft={draft}
      check={(typed) => checkAdjudication(typed, context)}
      wordsFor={wordsForHarm}
      saveLabel={context.isAdjudicated ? 'Change the verdict' : 'Save the verdict'}
      cancelHref={cancelHref}
    >
      <FieldGroup legend={context.isAdjudicated ? 'Change the verdict' : 'Your verdict'}>
        <ChoiceField<AdjudicationInput>
          name="verdict"
          label={LABELS.verdict}
          hint={VERDICTS.map(({ label, definition }) => `${label}: ${definition}`).join(' ')}
          choices={VERDICTS}
          required
        />
      </FieldGroup>
      <FoundInstead context={context} />
      {context.isAdjudicated ? <AmendmentReason /> : null}
    </RecordForm>
  );
}

/** What it was instead: in sight only while the verdict says that it was something else. */
function FoundInstead({ context: { performedOn, today } }: { context: AdjudicationContext }) {
  const verdict: unknown = useWatch({ name: 'verdict' });
  if (verdict !== 'reclassified') return null;
  return <FactsFields performedOn={performedOn} today={today} labels={LABELS} />;
}
