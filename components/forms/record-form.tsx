'use client';

import { useRouter } from 'next/navigation';
import { type ReactNode, useEffect, useId, useRef, useState } from 'react';
import {
  type DefaultValues,
  type FieldValues,
  FormProvider,
  type Path,
  type PathValue,
  useForm,
} from 'react-hook-form';
import type { z } from 'zod';
import { announce } from '@/components/shell/announcement-store';
import { Notice } from '@/components/ui/notice';
import type { Finding } from '@/lib/registry/findings';
import type { FormValue, WriteInput, WriteResult } from '@/lib/registry/write-result';
import { type ConflictChoice, ConflictPanel } from './conflict-panel';
import { draftWords, FlaggedTexts, StoredDraftNotice } from './draft-notice';
import { FindingsSummary } from './findings-summary';
import { findingsOfErrors, focusField, type PlacedFinding, placeFindings } from './form-findings';
import { newIdempotencyKey } from './idempotency-key';
import { LeaveGuard } from './leave-guard';
import { RecordFormContext } from './record-form-context';
import { recordFormResolver } from './record-form-resolver';
import { SaveBar } from './save-bar';
import { SignedOutPanel } from './signed-out-panel';
import { type DraftKeeping, useDraft } from './use-draft';
import { fieldId } from './use-field';
import { useReady } from './use-ready';

interface RecordFormProps<Input extends FieldValues, Output extends FieldValues> {
  /** Read aloud as the form's name. */
  readonly label: string;
  readonly schema: z.ZodType<Output, Input>;
  readonly defaultValues: DefaultValues<Input>;
  /** The server action. It gets the values as typed and parses them with the same schema. */
  readonly action: (input: WriteInput<Input>) => Promise<WriteResult>;
  /**
   * Rules that need more than the form (today, the procedure's day). Refusals stop a save. Warnings stop it once; where the
   * form's values have `kept`, until each has a reason to stay.
   */
  readonly check?: (values: Output) => readonly Finding[];
  /** Words for a value in a conflict (a label for a code). */
  readonly wordsFor?: (field: string, value: FormValue) => string;
  /** Where unfinished values are kept; without it they stay in the page. */
  readonly draft?: DraftKeeping;
  readonly saveLabel?: string;
  readonly cancelHref?: string;
  readonly onSaved?: (result: Extract<WriteResult, { kind: 'saved' }>) => void;
  /** Empties the form after a save, for entering one after another. */
  readonly clearAfterSave?: boolean;
  readonly children: ReactNode;
}

type Unsaved = Exclude<WriteResult, { kind: 'saved' } | { kind: 'invalid' }>;
const NO_FINDINGS = () => [];
const UNREACHED: Unsaved = {
  kind: 'failed',
  message:
    'The server did not answer. Check the connection, then save again: should the entry have arrived after all, it is not stored twice.',
  reference: 'no answer',
};

/** Reasons stored with the values that a form begins with. */
function reasonsIn(values: object): ReadonlyMap<string, string> {
  const kept: unknown = 'kept' in values ? values.kept : [];
  if (!Array.isArray(kept)) return new Map();
  return new Map(kept.map(({ field, reason }: { field: string; reason: string }) => [field, reason]));
}

/** The words of a field as they stand in the form. */
const labelInForm = (form: HTMLFormElement | null, field: string): string =>
  form?.querySelector<HTMLElement>(`[data-field="${CSS.escape(field)}"]`)?.dataset.label ?? field;

/** A stored value in the shape in which the form holds the field: a list is told as one text. */
function asHeld(held: unknown, stored: FormValue): FormValue | readonly string[] {
  if (!Array.isArray(held)) return stored ?? '';
  return stored === null || stored === '' ? [] : String(stored).split(', ');
}

const withoutDoubles = (findings: readonly Finding[]): readonly Finding[] => [
  ...new Map(findings.map((finding) => [`${finding.field} ${finding.message}`, finding])).values(),
];

/** Every form of the lab: one schema, all findings at once, and whatever happens, what was typed stays. */
export function RecordForm<Input extends FieldValues, Output extends FieldValues>(
  props: RecordFormProps<Input, Output>,
) {
  const { label, schema, defaultValues, action, check = NO_FINDINGS, saveLabel = 'Save', children } = props;
  const router = useRouter();
  const ready = useReady();
  const formId = useId();
  const element = useRef<HTMLFormElement>(null);
  const key = useRef<string>(undefined);
  const accepted = useRef('');
  const [summary, setSummary] = useState<readonly PlacedFinding[]>([]);
  const [warnings, setWarnings] = useState<readonly Finding[]>([]);
  const [attempt, setAttempt] = useState(0);
  const [answer, setAnswer] = useState<Unsaved>();
  const [saved, setSaved] = useState('');
  const [reasons, setReasons] = useState<ReadonlyMap<string, string>>(() => reasonsIn(defaultValues));
  const asksReasons = 'kept' in defaultValues;
  const [foundByServer, setFoundByServer] = useState<readonly Finding[]>([]);
  const form = useForm<Input, unknown, Output>({
    mode: 'onBlur',
    reValidateMode: 'onChange',
    shouldFocusError: false,
    defaultValues,
    resolver: recordFormResolver(schema, check),
  });
  const { isSubmitting, isDirty, errors } = form.formState;
  const [offered, setOffered] = useState(props.draft?.stored ?? null);
  const { answer: draftAnswer, isCurrent, pause, settle, forget } = useDraft(form, props.draft);
  const takeUp = () => {
    if (offered) form.reset(offered.values as Input, { keepDefaultValues: true });
    setOffered(null);
  };
  const put = (name: string, value: FormValue | readonly (string | object)[]) =>
    form.setValue(name as Path<Input>, value as PathValue<Input, Path<Input>>, { shouldDirty: true });

  useEffect(() => {
    const asked = /^#field=(.+)$/.exec(location.hash)?.[1];
    if (asked && element.current) focusField(element.current, decodeURIComponent(asked));
  }, []);

  const present = (findings: readonly Finding[]) => {
    if (element.current) setSummary(placeFindings(element.current, findings));
    setAttempt((count) => count + 1);
  };

  const accept = (result: Extract<WriteResult, { kind: 'saved' }>) => {
    key.current = undefined;
    accepted.current = '';
    settle();
    const kept = form.getValues();
    if (props.clearAfterSave) form.reset(defaultValues);
    else form.reset('version' in kept ? { ...kept, version: result.version } : kept);
    setWarnings([]);
    props.onSaved?.(result);
    if (result.href) {
      announce(result.message);
      router.push(result.href);
    } else setSaved(result.message);
  };

  const send = async () => {
    const values = form.getValues();
    key.current ??= newIdempotencyKey();
    pause(true);
    const result = await action({ idempotencyKey: key.current, values }).catch(() => UNREACHED);
    if (result.kind === 'saved') return accept(result);
    pause(false);
    if (result.kind !== 'invalid') return setAnswer(result);
    const unusual = result.findings.filter((finding) => finding.kind === 'warning');
    setFoundByServer(unusual);
    setWarnings(unusual);
    for (const { field, message, kind } of result.findings) {
      if (kind === 'warning') continue;
      form.setError((field === '' ? 'root.form' : field) as Path<Input>, { type: 'server', message });
    }
    present(result.findings);
  };

  const begin = () => {
    setSummary([]);
    setAnswer(undefined);
    setSaved('');
  };
  const save = form.handleSubmit(
    async (values) => {
      begin();
      const unusual = withoutDoubles([
        ...check(values).filter((finding) => finding.kind === 'warning'),
        ...foundByServer,
      ]);
      setWarnings(unusual);
      if (asksReasons) {
        const kept = unusual.map(({ field }) => ({ field, reason: reasons.get(field) ?? '' }));
        if (kept.some(({ reason }) => reason === '')) return present(unusual);
        put('kept', kept);
      } else {
        const seen = JSON.stringify(unusual);
        if (unusual.length > 0 && accepted.current !== seen) {
          accepted.current = seen;
          return present(unusual);
        }
      }
      await send();
    },
    (refused) => {
      begin();
      present(findingsOfErrors(refused));
    },
  );

  const resolve = (
    choices: ReadonlyMap<string, ConflictChoice>,
    conflict: Extract<Unsaved, { kind: 'conflict' }>,
  ) => {
    for (const { field, stored } of conflict.fields) {
      if (choices.get(field) === 'stored') put(field, asHeld(form.getValues(field as Path<Input>), stored));
    }
    if ('version' in form.getValues()) put('version', conflict.storedVersion);
    return save();
  };

  const standing = new Set(findingsOfErrors(errors).map((finding) => finding.field));
  const mended = new Set(
    summary.filter((item) => item.kind === 'refusal' && !standing.has(item.field)).map((item) => item.field),
  );
  return (
    <FormProvider {...form}>
      <RecordFormContext value={{ formId, warnings }}>
        <LeaveGuard active={isDirty && !isSubmitting && !isCurrent} />
        {offered ? (
          <StoredDraftNotice
            draft={offered}
            onTakeUp={takeUp}
            onDrop={() => {
              setOffered(null);
              forget();
            }}
          />
        ) : null}
        {summary.length > 0 ? (
          <FindingsSummary
            findings={summary}
            mended={mended}
            attempt={attempt}
            idOf={(field) => fieldId(formId, field)}
            onGo={(field) => element.current && focusField(element.current, field)}
            keep={
              asksReasons
                ? {
                    reasons,
                    onReason: (field, reason) => setReasons((chosen) => new Map(chosen).set(field, reason)),
                  }
                : null
            }
          />
        ) : null}
        {answer?.kind === 'conflict' ? (
          <ConflictPanel
            fields={answer.fields}
            wordsFor={props.wordsFor}
            onResolve={(choices) => resolve(choices, answer)}
          />
        ) : null}
        {answer?.kind === 'unauthenticated' ? <SignedOutPanel onSignedIn={() => save()} /> : null}
        {answer?.kind === 'forbidden' ? (
          <Notice kind="harm" title="Not saved" live="alert">
            <p>{answer.message}</p>
          </Notice>
        ) : null}
        {answer?.kind === 'failed' ? (
          <Notice kind="harm" title="Not saved" live="alert">
            <p>
              {answer.message} Reference: {answer.reference}.
            </p>
          </Notice>
        ) : null}
        <form ref={element} aria-label={label} method="post" noValidate onSubmit={save}>
          {children}
          <FlaggedTexts
            flagged={draftAnswer?.kind === 'kept' ? draftAnswer.flagged : []}
            labelOf={(field) => labelInForm(element.current, field)}
          />
          <SaveBar
            label={saveLabel}
            ready={ready}
            busy={isSubmitting}
            status={saved === '' ? draftWords(draftAnswer) : saved}
            cancelHref={props.cancelHref}
          />
        </form>
      </RecordFormContext>
    </FormProvider>
  );
}
